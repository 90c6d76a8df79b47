package main

import "context"

func effectsTable(context.Context, options) (*table, error) { return &table{}, nil }
func signs(context.Context, options) (*table, error)        { return &table{}, nil }
func kills(context.Context, options) (*table, error)        { return &table{}, nil }
func cuts(context.Context, options) (*table, error)         { return &table{}, nil }
func diskFaults(context.Context, options) (*table, error)   { return &table{}, nil }
