// Package desk is what is known without a reading: hold-down, reach, keep-out, drill, program, and what the cards have to learn.
package desk
