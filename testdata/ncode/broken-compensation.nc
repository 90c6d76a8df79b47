%
(finishing pass with the radius in the control)
G21 G17 G90 G94 G40 G49 G80
G54
T2 M6
S12000 M3
G43 H2 G0 Z30.
X-15. Y-15.
Z18.
G1 Z15. F300
G41 D2 X0. Y-10. F500
Y60.
G2 X4. Y64. R4.
G1 X96.
Y0.
X-10.
G0 Z30.
M5
M30
%
