package hold

// Sources of the rows of woods, plastics and metals. "As printed" is a stored copy or
// reprint; no original was opened.
const (
	srcA2 = "Aluminum Association typical values, 5083-O"
	srcA3 = "Aluminum Association typical values, 7075-T6"
	srcA4 = "C36000 data sheets"
	srcA5 = "school materials table; SAE 1018 sheet"
	srcB1 = "timber lexicon"
	srcB2 = "two papers on bog oak, 2022 and 2024; scaled from white oak"
	srcD3 = "three sheet makers' data"
	srcD4 = "comparison chart of stock shapes"
	srcD5 = "plastics handbook and a rod maker's data"
	srcD6 = "general plastics table"
	srcD7 = "resin and gear makers on nylon and water"
	srcD8 = "general plastics tables"
	srcK1 = "metal groups after VDI 3323, two tool catalogues"
	srcK2 = "no published value; starting estimate"
	srcK3 = "particleboard, Materials 14 (2021) 2208, carried over"
	srcL1 = "scorch of the cut"
	srcL2 = "softening of the resin"
	srcN1 = "NEMA grade chart of two laminate sellers"
	srcN2 = "G-10 data, three thicknesses"
	srcN4 = "laminate data sheets"
	srcP1 = "Finnish plywood handbook, birch"
	srcP2 = "panel association and a maker on plywood"
	srcP3 = "USDA Wood Handbook, table 12-1; EN 622-5"
	srcP4 = "a maker's growth of board, as quoted"
	srcP5 = "plywood design standard"
	srcR0 = "no source; order of magnitude"
	srcR1 = "a share of the crush strength for lasting load"
	srcR2 = "a share of the short-time shear strength for a screw left tight"
	srcR4 = "between wood and resin"
	srcR5 = "worked from the uptake of water"
	srcT1 = "USDA Wood Handbook, table 19-5, methyl methacrylate in basswood"
	srcT2 = "papers on resin-filled hardwoods; upper end of movement is plain wood"
	srcW2 = "USDA Wood Handbook FPL-GTR-190, table 13-5"
	srcW3 = "USDA Wood Handbook, table 5-3, 12 % moisture"
	srcW4 = "USDA Wood Handbook, table 5-3, 12 % moisture, as reprinted"
	srcW5 = "USDA Wood Handbook, chapter 4; across the grain worked out by its equations"
	srcW6 = "USDA Wood Handbook, chapter 4, shrinkage along the grain / 30"
	srcW7 = "USDA Wood Handbook, table 5-1, elastic ratios"
	srcW8 = "timber sellers' sheets"
	srcW9 = "two versions of one wood reference"
)

// ver is a range with both ends seen in a copy, est a starting estimate.
func ver(lo, n, hi float64, source string) Range { return Range{lo, n, hi, source, Verified} }
func est(lo, n, hi float64, source string) Range { return Range{lo, n, hi, source, Estimate} }

// mem and mid are ranges whose middle is from memory or as printed and whose ends nobody
// printed: they carry the flag of their weakest number.
func mem(lo, n, hi float64, source string) Range {
	return Range{lo, n, hi, source + "; the middle from memory, the ends an estimate", Estimate}
}
func mid(lo, n, hi float64, source string) Range {
	return Range{lo, n, hi, source + "; the middle as printed, the ends an estimate", Estimate}
}
