%
(posted for another setup, by hand at the end)
G17 G90 G40 G49 G80
G55
T3 M6
G43 H4 G0 Z20.
X20. Y20.
Z2.
S18000 M3
G1 Z15.
X60. F600
G0 X20. Y40.
G92 Z0.
G68 X0. Y0. R0.5
G1 X40.
G28 Z0.
T9 M6
M30
%
