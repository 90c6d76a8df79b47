%
(bolt circle worked out in the program)
#1=48 (centre)
#2=32
#3=20 (radius)
#4=60 (step, degrees)
G21 G17 G90 G94 G40 G49 G80
G54
T5 M6
S3500 M3
G43 H5 G0 Z30.
X[#1+#3] Y#2
G99 G81 X[#1 + #3*COS[0]] Y[#2 + #3*SIN[0]] Z10. R18. F90
X[#1 + #3*COS[1*#4]] Y[#2 + #3*SIN[1*#4]]
X[#1 + #3*COS[2*#4]] Y[#2 + #3*SIN[2*#4]]
X[#1 + #3*COS[3*#4]] Y[#2 + #3*SIN[3*#4]]
X[#1 + #3*COS[4*#4]] Y[#2 + #3*SIN[4*#4]]
X[#1 + #3*COS[5*#4]] Y[#2 + #3*SIN[5*#4]]
G80
G0 Z30.
M5
G49
M2
%
