package facts

// What each fact's vector holds. Lengths mm, angles rad, temperatures °C; machine
// coordinates unless it says otherwise. Cov is of the leading components named.
//
//	identity     [T uT m near]               fixture mounted and identified; its temperature and standard uncertainty (20, 0 when
//	                                         not asked); m 1: by a thermometer; near 1: it stands where it was made
//	length/N     [L]                    cov 1: tool length from the spindle's gauge line; length/probe the probe's
//	skew         [theta straightness]   cov 1: direction of the fixture's edge less its as-made zero, CCW +
//	bore         [x y D] or [x y D q theta]  cov 2 (x y) or 4 (x y theta q): bore 1 (pin, square) corrected once, D 0 when not
//	                                         measured; scale and skew from two
//	floor        [z tiltx tilty rim block]  cov 1: Z offset of the pocket floor in its middle (machine Z less the length in force
//	                                        and the block); rim likewise; block under the tool at each touch, 0 under a probe
//	offset       [x y z rot cx cy v_x v_y q theta bx by block] cov 4 (bore x, bore y, theta, q): what the control is to hold;
//	             compromise point; the rest for the budget
//	echo         []                     the control shows it
//	program/R    [minx miny minz maxx maxy maxz] of the program of role R, in work coordinates; empty when not computed
//	seat         [dz tiltx tilty gx gy ux uy]  part top against floor; how the part has grown since side 1 by its widths measured
//	                                           again, with u
//	seat/located [dx dy rot]            cov 3: how the part lies on pins or stops beyond the drawing, about the place held
//	bore/pins    [d1 d2 apart]          cov 3: two pins, diameters and distance; reamed likewise: two holes of the part
//	clamps       [n]                    straps on
//	baseline     [n s dof d1 .. dn]     part minus fixture at each witness, mean; pooled s and its degrees of freedom
//	holes        [n]
//	threads      [n cycles le strip]    least thread found, mm; turn from snug at which a sacrificial thread stripped, rad (0: none was)
//	screws       [n head le set]        highest head over the part's face; least thread engaged; preload where it is less than the
//	                                    working one
//	shift        [dx dy rot sx sy ux uy] cov 3: what its lean takes sideways over the part's thickness, with u; motion of the part
//	             on the fixture since the baseline, about the part zero
//	ball         [rx ry ex ey s dof]    tram [tx ty] (see givenFacts)
//
//	stock        [L W t1..t5 bow]       raw stock, a first side; touched by no mishap
//	corner       [x0 y0 skew interior xside yside hx hy] cov 2: program zero of a first side; sides and first contacts, see corner
//	top          [z0 tiltx tilty lowest z1 block] cov 1: raw top of the stock and Z0, see topFace
//	tram/column  [zx zy]                lean of the Z travel, only when measured; squareness [eps] cov 1: X error per Y
//	part/...                            what side 1 leaves for side 2: see part.go. Side 2 binds to it: read again there, seat and
//	                                    what rests on it fall
//	drift        [d]                    largest difference that a passed recheck of bore and floor found
//
//	inspect/benched [c shop rh]          the finished part on the bench
//	mismatch     [dx dy turn size square told] cov 5: side 2 against side 1 about the part's middle
//	walls        [dx dy thicker] cov 3   floor-left [thick leanx leany] cov 3   outside [x y]
//	correction   [x y turn out]          what an inspection takes out of the fixture's card
//
// Acts that must be done again when what they confirm is made anew are facts without numbers:
// lifted, unstrapped, referenced, deck, skimmed, release, stops; cut (side 1), sense (of the side-2 program),
// and the ends of calibrations: ball/done, tram/swept, tram/travel, tram/done.

// The words of What, so that steps, practice bench and screen mean the same.
//
// Places after @ are mm. Places on the fixture (floor, rim, edge, bore2) are in
// the fixture card's frame: from bore 1, x along the edge. Places on the part
// are in the setup's program coordinates in plan.
//
//	By           Of                      Dir             Axis     the value read
//	probe        bore, bore2, pin ...    60 (degrees, outward)  x y  machine position of the spindle axis at the trigger
//	probe        floor@45,20 rim@10,5 part-top@48,32  z-   z     machine Z at the trigger (no length taken off)
//	probe        part-left@27 part-right@27 part-front@48 part-rear@48   x+ x- y+ y-  x y   ditto; the number is the other coordinate
//	probe        ring, ring/180          x+ x- y+ y-     x y      hits in the ring gauge, spindle at 0 and turned by 180 degrees
//	probe        stock-left@27 -right -front -rear  x+ x- y+ y-  x y  faces of raw stock, place along them in program coordinates
//	probe        stock-top@48,32 jaw-top@48,68 seat-face@10,8  z-  z  stock in the vise, its jaw, the face that side 2 rests on
//	calliper     stock                   length width thickness-1 .. 5 grip
//	micrometer   part                    width-x-1 width-y-2 wall thickness-1 .. 4
//	dial         part                    open                     movement when the vise is opened
//	dial         tool/3                  runout                   highest less lowest on its shank in one turn
//	dial         blade                   up              x y      going up a square, the blade toward the stylus is +
//	dial         test-square             near far        x        step between the sides, side 1 to the right is +
//	control      tool/3 tool/probe       length                   length in the control's tool table
//	touch        tool/3 tool/probe       length                   length measured on the reference
//	dial         edge@40                 "" or jog+0.200          dial reading at a station; jog: after jogging the edge's normal
//	                                                              axis by that much
//	dial         bore, pin (and 2)       0 90 180 270             dial swept in the bore or round the pin; jog+0.1000 yjog+0.1000:
//	                                                              after jogging X or Y
//	finder paper bore, pin, square (2)   0 90 180 270    x y      spindle position at the kick or touch on that side, nothing taken off
//	pin          bore, bore2             in              x y      spindle position while a gauge pin slides in
//	gauge        pin-gauge block paper                            size of a gauge pin; what lies under the tool at each height
//	tool         floor@45,20 rim@10,5    z-              z        machine Z of a tool over its block (no length taken off)
//	readout      spindle                                 x y      spindle position shown
//	dial         table@100               0 90 180 270             spindle sweep on radius 100
//	dial         part                    rock-1 rock-2 strap screw-1 screw-2 screw-3 unstrap   xy z x y   movement seen on the dial
//	feeler       part                    corners walls            strips that pull out
//	feeler, finger                                              washers turn: washers that a finger turns
//	count        clamps fixture-bolts screws soft-screws loose-bolts wrenches dials holes tools chips threads
//	             clamps: on, table (left on it), turned, solid (tips over solid fixture); holes: drilled, pass;
//	             threads: good, shards; screws: in, turned
//	eye          part                    up flip edge             which face is down, how it was turned, where its front edge lies
//	gauge        screw-head              height                   highest head and washer over the part's face
//	eye          tools runout, spindle tool mark, screws length, clamps drawn, ring size, probe purpose, tram way, witness way
//	eye          program/top             offset-word same         as the control shows it; same: as posted, or edited there
//	eye          fixture                 id arrow                 part edge, rotation-page x, paint-lines
//	eye          pocket                  bare                     whether anything lies in it
//	thermometer  fixture, part
//	micrometer   pin, pin2, reamed                                diameter of a pin; over two gauge pins in the part's holes
//	dial         pin, pin2               up              x y      from its foot up to the part's height, away from the axis is +
//	gauge        reamed/1, reamed/2      go no-go                 largest pin that goes into a hole, smallest that does not
//	dial         feeler                  sign                     over a feeler that is laid on side 2
//	dial         part-right@54           step                     across the parting line of that face there, side 2 further out is +
//	micrometer   part-right@32           wall                     wall there
//	gauge        part-top@8,8            floor                    floor there
//	micrometer   part                    width-x width-y          outer widths of the finished part
//	hand         mate                    goes rocks
//	eye          part                    fate                     what becomes of it
//	eye          card                    correct
//	eye          part                    falls pushed             whether it falls on by its own weight; whether it was pushed
//	rule         tool/3@14,8             gap                      under the tip, to the part's top at that place
//	hand         part                    warmth                   warmer than the fixture or not
//	control      offset                  "" or old       x y z z0 rotation   the offset page of the control, or what a preset shows;
//	                                                                        old: before it is overwritten
//	drill        hole/1                  depth                    the tip below the seat plane; pin holes  tight (holes it does not pass)
//	tap          threads                 turns                    driver screws torque angle
//
// Acts use the same things: {mount fixture}, {tap fixture@right away 0.016},
// {tighten fixture}, {go bore2}, {move spindle x 0.012}, {fit probe}, {remove probe}, {wipe bore}, {key offset x -267.450},
// {seat part}, {remove part} with its straps and screws, {strap clamps}, {drill holes}, {thread holes}, {screw screws}, {unstrap
// clamps}, {skim part}, {wipe pocket}, {push part}, {clear deck}, {post program/top}, {cancel rotation}, {screw screws shorter},
// {screw screws lower}, {strap clamps solid},
// {jog tool/3 z 38}, {measure tools}, {sweep tool/3}, {wipe collet},
// {wait part} until it is as warm as the fixture.
//
// In Outcome.Next two acts say how the reading goes on: {again hit3} means read the
// fields of that form (or the field) again in the same round; {round} or neither
// means a new round. {declare fixture-tapped} means: declare that mishap. {reopen seat}
// means a new round of that step: the walk goes on from there.
