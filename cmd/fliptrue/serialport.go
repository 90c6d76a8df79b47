package main

import (
	"io"

	"fliptrue/jobs"

	"go.bug.st/serial"
)

// serialPort opens the serial line of a feed to be read. A read comes back within feedEvery,
// with nothing where nothing came; an error is a line that was unplugged.
func serialPort(f jobs.Feed) (io.ReadCloser, error) {
	mode := &serial.Mode{BaudRate: f.Baud, DataBits: int(f.Frame[0] - '0'),
		Parity:   map[byte]serial.Parity{'N': serial.NoParity, 'E': serial.EvenParity, 'O': serial.OddParity}[f.Frame[1]],
		StopBits: map[byte]serial.StopBits{'1': serial.OneStopBit, '2': serial.TwoStopBits}[f.Frame[2]]}
	p, err := serial.Open(f.Port, mode)
	if err != nil {
		return nil, err
	}
	if err := p.SetReadTimeout(feedEvery); err != nil {
		p.Close()
		return nil, err
	}
	return p, nil
}
