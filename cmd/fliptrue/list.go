package main

type listOptions struct{ asJSON bool }

func list(e *env, o listOptions) (exit, error) { return exitOK, nil }
