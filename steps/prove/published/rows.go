package published

import "slices"

// Rows are all printed numbers that the program computes too. It panics where one cannot be computed.
func Rows() []Row {
	return slices.Concat(fits(), statistics(), charts(), threads(), screws(), plates(), limits(), wood(), shop())
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
