package ncode

import (
	"bytes"
	"math"
)

// index reads the number of a parameter, after its #.
func (p *parser) index() (int, *fault) {
	from := p.i
	if p.t[p.i] == '<' {
		return 0, &fault{NotProven, "parameter", "", "#" + string(p.t[p.i:len(p.t)-1]),
			"named parameters are not followed: post the program with numbers"}
	}
	v, f := p.value()
	if f != nil {
		return 0, f
	}
	n := int(math.Round(v))
	if math.Abs(v-float64(n)) > 0.0001 || n < 1 || n >= len(p.params.v) {
		return 0, refuse("3.3.2.2", "parameter", "#"+string(p.t[from:p.i]), "parameters are numbered 1 to 5399")
	}
	return n, nil
}

// value reads a real value: a number, a parameter, an expression or a function of one.
func (p *parser) value() (float64, *fault) {
	from := p.i
	v, f := p.rawValue()
	if f == nil && !(math.Abs(v) <= maxNumber) {
		f = refuse("3.3.2.3", "value", clip(p.t[from:p.i]), "the value is out of range")
	}
	return v, f
}

func (p *parser) rawValue() (float64, *fault) {
	switch c := p.t[p.i]; {
	case c == '[':
		return p.expression()
	case c == '#':
		p.i++
		n, f := p.index()
		if f != nil {
			return 0, f
		}
		if !p.params.set[n] && len(p.unread) < 8 {
			p.unread = append(p.unread, n)
		}
		return p.params.v[n], nil
	case c >= 'A' && c <= 'Z':
		return p.function()
	}
	v, next, ok := number(p.t, p.i)
	if !ok {
		return 0, refuse("3.3.2.1", "number", clip(p.t[max(p.i-1, 0):len(p.t)-1]),
			"a number is a sign, digits and at most one point")
	}
	p.i = next
	return v, nil
}

// The operations of 3.3.2.3, by how tightly they bind.
const (
	opNone = iota
	opEnd
	opAdd
	opSub
	opOr
	opXor
	opAnd
	opMul
	opDiv
	opMod
	opPow
)

func rank(op int) int {
	switch {
	case op == opPow:
		return 4
	case op >= opMul:
		return 3
	case op >= opAdd:
		return 2
	}
	return 1
}

// expression reads [ ... ]. Lines are short, so its recursion is shallow.
func (p *parser) expression() (float64, *fault) {
	from := p.i
	p.i++
	var vs [4]float64
	var ops [4]int
	n := 0
	for {
		v, f := p.value()
		if f != nil {
			return 0, f
		}
		vs[n] = v
		op := p.operation()
		if op == opNone {
			return 0, refuse("3.3.2.3", "expression", clip(p.t[from:len(p.t)-1]), "an operation or ] is missing")
		}
		for n > 0 && rank(ops[n-1]) >= rank(op) {
			if f := p.operate(&vs[n-1], vs[n], ops[n-1], from); f != nil {
				return 0, f
			}
			n--
		}
		if op == opEnd {
			return vs[0], nil
		}
		ops[n] = op
		n++
	}
}

func (p *parser) operation() int {
	t := p.t[p.i:]
	op, n := opNone, 1
	switch {
	case t[0] == ']':
		op = opEnd
	case t[0] == '+':
		op = opAdd
	case t[0] == '-':
		op = opSub
	case t[0] == '/':
		op = opDiv
	case bytes.HasPrefix(t, []byte("**")):
		op, n = opPow, 2
	case t[0] == '*':
		op = opMul
	case bytes.HasPrefix(t, []byte("MOD")):
		op, n = opMod, 3
	case bytes.HasPrefix(t, []byte("AND")):
		op, n = opAnd, 3
	case bytes.HasPrefix(t, []byte("XOR")):
		op, n = opXor, 3
	case bytes.HasPrefix(t, []byte("OR")):
		op, n = opOr, 2
	default:
		return opNone
	}
	p.i += n
	return op
}

func (p *parser) operate(a *float64, b float64, op, from int) *fault {
	bad := func(hint string) *fault {
		return refuse("3.3.2.3", "expression", clip(p.t[from:p.i]), hint)
	}
	switch op {
	case opAdd:
		*a += b
	case opSub:
		*a -= b
	case opMul:
		*a *= b
	case opDiv:
		if b == 0 {
			return bad("a division by zero")
		}
		*a /= b
	case opMod:
		// The result of MOD is never negative.
		if b == 0 {
			return bad("a division by zero")
		}
		if *a = math.Mod(*a, b); *a < 0 {
			*a += math.Abs(b)
		}
	case opPow:
		if *a < 0 && b != math.Floor(b) {
			return bad("a negative number to a power that is not whole")
		}
		if *a = math.Pow(*a, b); math.IsInf(*a, 0) || math.IsNaN(*a) {
			return bad("the value is out of range")
		}
	case opAnd:
		*a = truth(*a != 0 && b != 0)
	case opOr:
		*a = truth(*a != 0 || b != 0)
	case opXor:
		*a = truth((*a != 0) != (b != 0))
	}
	return nil
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// functions are the unary operations of 3.3.2.4 but ATAN; angles are in degrees.
var functions = map[string]func(float64) float64{
	"ABS": math.Abs, "EXP": math.Exp, "FIX": math.Floor, "FUP": math.Ceil, "ROUND": math.Round,
	"ACOS": func(x float64) float64 { return math.Acos(x) * (180 / math.Pi) },
	"ASIN": func(x float64) float64 { return math.Asin(x) * (180 / math.Pi) },
	"COS":  func(x float64) float64 { return math.Cos(x * (math.Pi / 180)) },
	"SIN":  func(x float64) float64 { return math.Sin(x * (math.Pi / 180)) },
	"TAN":  func(x float64) float64 { return math.Tan(x * (math.Pi / 180)) },
	"LN":   math.Log, "SQRT": math.Sqrt,
}

// function reads NAME[expression], or ATAN[y]/[x].
func (p *parser) function() (float64, *fault) {
	from := p.i
	for p.t[p.i] >= 'A' && p.t[p.i] <= 'Z' {
		p.i++
	}
	name := string(p.t[from:p.i])
	bad := func(hint string) *fault {
		return refuse("3.3.2.4", "expression", clip(p.t[from:len(p.t)-1]), hint)
	}
	fn := functions[name]
	if fn == nil && name != "ATAN" {
		return 0, refuse("3.3.2", "number", clip(p.t[max(from-1, 0):len(p.t)-1]), "a letter is followed by a number, # or [")
	}
	if p.t[p.i] != '[' {
		return 0, bad("the function is followed by [")
	}
	v, f := p.expression()
	if f != nil {
		return 0, f
	}
	if name == "ATAN" {
		if p.t[p.i] != '/' || p.t[p.i+1] != '[' {
			return 0, bad("it is written ATAN[y]/[x]")
		}
		p.i++
		x, f := p.expression()
		if f != nil {
			return 0, f
		}
		return math.Atan2(v, x) * (180 / math.Pi), nil
	}
	if v = fn(v); math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, bad("the value is outside what the function takes")
	}
	return v, nil
}
