package canvas

// Pictures as they should look, seen and judged by eye.
const (
	planDrawn = `
             AWAY
     ⡤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⢤
     ⡇⡔⠒⢢               ⢸
     ⡇⠑⠤⠎        ⠐⢀⠔⢀⠔⢀⠄⢸
     ⡇           ⠐⢁⠔⢁⠔⢁⠄⢸
     ⡇ X3        ⠐⢁⠔⢁⠔⢁⠄⢸
     ⡇            ⠁ ⠁ ⠁ ⢸
     ⡇                  ⢸
     ⠓⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠚
LEFT      TOWARD YOU     RIGHT
`

	planASCII = `
             AWAY
     /------------------\
     |/-\               |
     |\-/        .././..|
     |           .\/\/\.|
     | X3        .\/\/\.|
     |            . . . |
     |                  |
     \------------------/
LEFT      TOWARD YOU     RIGHT
`

	ringDrawn = `
                     AWAY
                      .
                  .\\-/-\-o2.
                ///|X3   . \+.
               .//           \.
              .o4            -/
              .|.      +     \o1
               .\\           /|
                .\\.     . /\
                  .o5-\-\-o6
                      .
LEFT              TOWARD YOU             RIGHT
largest 0.059, hit 3; dotted: limit 0.020
`

	runDrawn = `
+0.027
AWAY
                                              .____-o  0.013
           .. .. .. .. .. .. \/_\/-\/-X---+-\/... ..
           .____----/---o----
+/- 0.009  o
           .. .. .. .. .. .. .. .. .. .. .. .. .. ..

TOWARD YOU
-0.027
           LEFT                          120.000 RIGHT
`

	barsDrawn = `
clearance ███████████████████ 0.0115 largest
skew      ▒▒▒▒▒▒▒▒▒▒          0.0060
ball                          0.0000
`

	tiltDrawn = `
                       AWAY
     -0.006                   +0.006
            o4. .. .. .. ... .. .. ..o3
            .                        |
            .                        .
            .                        .
            |           high         |
            .      .---------->      .
            .                        .
            |                        |
     -0.004 .                 +0.004 .
            o1 .. .. .. ... . .. .. .o2

LEFT                TOWARD YOU               RIGHT
`

	targetDrawn = `
                  AWAY
               _/-----\\.
             //         .\\
           |/              \.
          .|     .....      \
          |    ||    .||     |
          |    |   o+ .|     |
          .|    \......     /
           |\              /.
             \\         .//
               -\-----//.
LEFT           TOWARD YOU          RIGHT
`
)
