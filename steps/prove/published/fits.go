package published

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/lsq"
)

func line(xs, ys []float64) fit.Line {
	ps := make([]fit.Point, len(xs))
	for i := range xs {
		ps[i] = fit.Point{X: xs[i], Y: ys[i]}
	}
	return must(fit.ToLine(ps))
}

func squares(rs []float64) (sum float64) {
	for _, r := range rs {
		sum += r * r
	}
	return sum
}

var (
	norrisX = []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
		556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	norrisY = []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	pontiusY = []float64{.11019, .21956, .32949, .43899, .54803, .65694, .76562, .87487, .98292, 1.09146, 1.20001, 1.30822, 1.41599, 1.52399,
		1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844, .11052, .22018, .32939, .43886, .54798, .65739, .76596, .87474, .98300, 1.09150,
		1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829}
	thermometer = [2][]float64{{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511},
		{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}}
)

// fits are least squares: a circle, lines, a parabola.
func fits() (rows []Row) {
	for _, of := range []func(add rowAdder){circleFit, lineFits, parabolaFit, thermometerFit} {
		of(func(source, what, flag, printed string, ours float64) {
			rows = append(rows, Row{source, what, flag, printed, ours, "", 0})
		})
	}
	for i := range rows { // double precision keeps about eleven of the certified digits
		if digits := len(rows[i].Printed); digits > 12 {
			rows[i].Off, rows[i].Within = "double precision", 1e-10*math.Abs(rows[i].Value())
			if rows[i].Agrees() && math.Abs(rows[i].Ours-rows[i].Value()) <= rows[i].half() {
				rows[i].Off, rows[i].Within = "", 0
			}
		}
	}
	return rows
}

// rowAdder takes one printed number and ours.
type rowAdder func(source, what, flag, printed string, ours float64)

func circleFit(add rowAdder) {
	c := must(fit.ToCircle([]fit.Point{{X: 1, Y: 7}, {X: 2, Y: 6}, {X: 5, Y: 8}, {X: 7, Y: 7}, {X: 9, Y: 5}, {X: 3, Y: 7}}))
	const ggs = "Gander, Golub, Strebel, Least-squares fitting of circles and ellipses, BIT 34 (1994) 558: geometric fit of six points"
	add(ggs, "centre x", copied, "4.739782", c.Center.X)
	add(ggs, "centre y", copied, "2.983533", c.Center.Y)
	add(ggs, "radius", copied, "4.714226", c.Radius)
	add(ggs, "rms distance", copied, "0.4523271", c.RMS)
}

func lineFits(add rowAdder) {
	n := line(norrisX, norrisY)
	const norris = "NIST StRD, linear regression, Norris (36 points)"
	add(norris, "B0", copied, "-0.262323073774029", n.Intercept)
	add(norris, "B1", copied, "1.00211681802045", n.Slope)
	add(norris, "s(B0)", copied, "0.232818234301152", n.UIntercept.V)
	add(norris, "s(B1)", copied, "0.429796848199937e-03", n.USlope.V)
	add(norris, "residual standard deviation", copied, "0.884796396144373", n.S.V)
	add(norris, "residual sum of squares", copied, "26.6173985294224", squares(n.Residuals))

	var ps []fit.Point
	for i := range 11 {
		ps = append(ps, fit.Point{X: 60 + float64(i), Y: 130 + float64(i)})
	}
	o := must(fit.ToOrigin(ps))
	const noInt = "NIST StRD, linear regression, NoInt1 (through the origin)"
	add(noInt, "B1", copied, "2.07438016528926", o.Slope)
	add(noInt, "s(B1)", copied, "0.165289256198347e-01", o.USlope.V)
	add(noInt, "residual standard deviation", copied, "3.56753034006338", o.S.V)
}

func parabolaFit(add rowAdder) {
	var design [][]float64
	for i := range pontiusY {
		x := float64(i%20+1) * 0.15 // of a million: scaled, as the fit of a dish is
		design = append(design, []float64{1, x, x * x})
	}
	p := must(lsq.Solve(design, pontiusY, nil))
	const pontius = "NIST StRD, linear regression, Pontius (quadratic, 40 points)"
	add(pontius, "B0", copied, "0.673565789473684e-03", p.X[0])
	add(pontius, "B1", copied, "0.732059160401003e-06", p.X[1]/1e6)
	add(pontius, "B2", copied, "-0.316081871345029e-14", p.X[2]/1e12)
	add(pontius, "s(B0)", copied, "0.107938612033077e-03", p.S()*math.Sqrt(p.Cofactor[0][0]))
	add(pontius, "residual standard deviation", copied, "0.205177424076185e-03", p.S())
}

func thermometerFit(add rowAdder) {
	ts := make([]float64, len(thermometer[0]))
	for i, t := range thermometer[0] {
		ts[i] = t - 20
	}
	g := line(ts, thermometer[1])
	at, u := g.At(10)
	const h3 = "JCGM 100:2008, example H.3 (thermometer), table H.6"
	add(h3, "y1", copied, "-0.1712", g.Intercept)
	add(h3, "u(y1)", copied, "0.0029", g.UIntercept.V)
	add(h3, "y2", copied, "0.00218", g.Slope)
	add(h3, "u(y2)", copied, "0.00067", g.USlope.V)
	add(h3, "r(y1, y2)", copied, "-0.930", g.Correlation().V)
	add(h3, "b(30 C)", copied, "-0.1494", at)
	add(h3, "u(b(30 C))", copied, "0.0041", u.V)
}
