package canvas

// Pictures as they should look, seen and judged by eye.
const (
	planDrawn = `
             AWAY
     ⡤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⢤
     ⡇⡔⠒⢢               ⢸
     ⡇⠑⠤⠎        ⠐⢀⠔⢀⠔⢀⠄⢸
     ⡇           ⠐⢁⠔⢁⠔⢁⠄⢸
LEFT ⡇ X3        ⠐⢁⠔⢁⠔⢁⠄⢸RIGHT
     ⡇            ⠁ ⠁ ⠁ ⢸
     ⡇                  ⢸
     ⠓⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠚
          TOWARD YOU
`

	planASCII = `
             AWAY
     /------------------\
     |/-\               |
     |\-/        .././..|
     |           .\/\/\.|
LEFT | X3        .\/\/\.|RIGHT
     |            . . . |
     |                  |
     \------------------/
          TOWARD YOU
`

	ringDrawn = `

         ./---\-o2
       |/.X3     \|
      ||          |.
      o4     +     o1
      ||          |.
       |\.       /|
         o5---/-o6
largest 0.059
`

	runDrawn = `
                                   _/-o
                            X_/--/-
                       _/--/-
                ._o--/-
           _/--/.
        o/-
+0.003                      X|
                            ||
        +. .. .. .- .. .. ..... .. .. +|
-0.003
`

	barsDrawn = `
clearance ███████████████████ 0.0115 largest
skew      ██████████          0.0060
ball                          0.0000
`

	tiltDrawn = `

      v4 .. .. ... .. .^3
      .                .
      |                |
      .   .--------> high
      .                .
      ^1.. .. ... .. ..v2

`
)
