// Package published holds printed numbers of standards, handbooks and worked examples beside what
// this program computes for them: one table, written as a page by `go run ./cmd/prove published`.
package published
