package hold

// metals beside those of the first table.
var metals = []Material{
	{Name: "aluminium-5083-o", Kind: Metal, Density: ver(2650, 2660, 2660, srcA2), Limit: ver(570, 574, 638, srcA2),
		Stiffness: ver(70300, 71000, 72000, srcA2), Expansion: ver(22.3, 23.8, 25, srcA2),
		Shear: est(64, 86, 103, srcR2), Crush: est(66, 116, 145, srcR1),
		Kc11: ver(600, 700, 800, srcK1), Mc: 0.25, Engage: 1.5, Peck: 1.5,
		Hazard: "Soft and gummy: builds up on the edge; lubricate, watch for welded chips."},
	{Name: "aluminium-7075-t6", Kind: Metal, Density: ver(2800, 2810, 2830, srcA3), Limit: ver(477, 477, 532, srcA3),
		Stiffness: ver(71000, 71700, 72000, srcA3), Expansion: ver(23.4, 23.6, 23.6, srcA3),
		Shear: est(112, 166, 199, srcR2), Crush: est(222, 402, 503, srcR1),
		Kc11: ver(700, 800, 900, srcK1), Mc: 0.25, Engage: 1.5, Peck: 1.5,
		Hazard: "As 6061; high locked-in stress in plate: thin parts move when the skin is cut."},
	{Name: "brass-c360", Kind: Metal, Density: ver(8200, 8490, 8500, srcA4), Limit: ver(885, 885, 900, srcA4),
		Stiffness: ver(97000, 97000, 103000, srcA4), Expansion: ver(19, 20.5, 21, srcA4),
		Shear: est(80, 110, 132, srcR2), Crush: est(74.4, 144, 180, srcR1),
		Kc11: ver(550, 700, 780, srcK1), Mc: 0.27, Engage: 1.5, Peck: 1.5,
		Hazard: "Holds 2.5 to 3.7 % lead: wash hands, no food at the machine, no air blast."},
	{Name: "mild-steel", Kind: Metal, Density: ver(7850, 7860, 7870, srcA5), Limit: mem(1420, 1500, 1540, srcA5),
		Stiffness: ver(190000, 200000, 210000, srcA5), Expansion: ver(11.5, 11.7, 12.2, srcA5),
		Shear: est(94, 154, 184, srcR2), Crush: est(120, 188, 235, srcR1),
		Kc11: ver(1350, 1350, 1500, srcK1), Mc: 0.21, Engage: 1, Peck: 1.5,
		Hazard: "Sharp hot chips; oil mist if flooded; sparks and aluminium or wood dust must not meet in one extractor."},
}
