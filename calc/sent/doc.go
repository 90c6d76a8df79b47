// Package sent reads the numbers of a line that an instrument sent or a person pasted.
//
// Goals: letters before numbers, bare columns, and lists of commas in brackets are understood;
// what has digits and is no number makes the whole line refused, with the reason.
//
// Non-goals: it opens no file and no port, and it does not say which reading a number is for.
//
// Units: a number keeps its text and its unit as they came; nothing is converted here.
package sent
