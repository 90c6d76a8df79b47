package background_test

import (
	"bytes"
	"os"
	"os/exec"
	"runtime"
	"testing"
	"time"

	_ "fliptrue/tui/background"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
)

const child = "FLIPTRUE_TEST_TINY_PROGRAM"

// hello is the smallest program with a frame.
type hello struct{}

func (hello) Init() tea.Cmd                       { return nil }
func (hello) View() string                        { return "first frame" }
func (hello) Update(tea.Msg) (tea.Model, tea.Cmd) { return hello{}, nil }

func TestMain(m *testing.M) {
	if os.Getenv(child) != "" {
		if _, err := tea.NewProgram(hello{}).Run(); err != nil {
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// TestNothingIsAskedBeforeTheFirstFrame starts the program on a terminal that
// never answers. Asked for its background, the program would wait five seconds
// for the reply; so the frame must come well before that, and the bytes up to it
// must hold no query (OSC 10, OSC 11 or a cursor position report).
func TestNothingIsAskedBeforeTheFirstFrame(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no pseudo-terminal")
	}
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), child+"=1", "TERM=xterm-256color", "COLORFGBG=")
	f, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Skip("no pseudo-terminal: ", err)
	}
	defer func() { f.Close(); cmd.Process.Kill(); cmd.Wait() }()
	frame := make(chan []byte, 1)
	go func() {
		var all []byte
		buf := make([]byte, 4096)
		for {
			n, err := f.Read(buf)
			all = append(all, buf[:n]...)
			if bytes.Contains(all, []byte("first frame")) || err != nil {
				frame <- all
				return
			}
		}
	}()
	begun := time.Now()
	select {
	case all := <-frame:
		if !bytes.Contains(all, []byte("first frame")) {
			t.Fatalf("the program ended without a frame: %q", all)
		}
		for _, q := range []string{"\x1b]10;?", "\x1b]11;?", "\x1b[6n"} {
			if bytes.Contains(all, []byte(q)) {
				t.Errorf("the terminal was asked %q", q)
			}
		}
		t.Logf("first frame after %v", time.Since(begun).Round(time.Millisecond))
	case <-time.After(4 * time.Second):
		t.Fatal("no frame in four seconds: Bubble Tea waits for an answer")
	}
}
