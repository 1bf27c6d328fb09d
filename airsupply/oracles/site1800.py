"""A belt-driven blower at 1800 m on warm outdoor air, half-loaded filter, one knife: by marching along the way of the air.

Shares no code with the package; python3 with numpy and scipy. Values stand in ../../airside_test.go.
"""
import math
import numpy as np
from scipy.optimize import brentq
from scipy.interpolate import PchipInterpolator
# site
h=1800; T=288.15-0.0065*h; pa=101325*(T/288.15)**(9.80665/(0.0065*287.05287))
def pws(t):
    T=t+273.15
    if t>=0: return math.exp(-5800.2206/T+1.3914993-0.048640239*T+4.1764768e-5*T**2-1.4452093e-8*T**3+6.5459673*math.log(T))
    return math.exp(-5674.5359/T+6.3925247-9.677843e-3*T+6.2215701e-7*T**2+2.0747825e-9*T**3-9.484024e-13*T**4+4.1635019*math.log(T))
def air(t,rh):
    pv=rh*pws(t); W=.621945*pv/(pa-pv); R=(287.042+W*461.523)/(1+W); cp=(1006+1860*W)/(1+W)
    return W,R,cp
t=38.; W,R,cp=air(t,.30); k=cp/(cp-R); T1=t+273.15; rho=pa/(R*T1)
# curve at 101325, 20C dry
Rd,cpd=287.042,1006.; a=Rd/cpd; T0=293.15
Q=np.array([.06,.12,.18,.24]); dp=np.array([24,22.5,19.5,14.5])*1e3; eta=np.array([.52,.66,.68,.60])
ws=cpd*T0*((1+dp/101325)**a-1); rho0=101325/(Rd*T0); P=rho0*Q*ws/eta
fw=PchipInterpolator(Q,ws); fP=PchipInterpolator(Q,P)
# filter
A=np.array([[.1,.01],[.2,.04]]); ab=np.linalg.solve(A,[150,500]); 
clean=150; load=.5*(900/150-1)+1  # change-out over clean at first point's flow
mu=lambda T:1.458e-6*T**1.5/(T+110.4)
N=.95; out={}
def solve(m):
    Qa=m/rho; df=(ab[0]*Qa+ab[1]*Qa*Qa)*load
    A1=math.pi/4*.125**2; v=m/((pa-df)/(R*T1))/A1; de=.5*.5*(pa-df)/(R*T1)*v*v
    p1=pa-df-de; Q1=m*R*T1/p1; w=N*N*float(fw(Q1/N)); p2=p1*(1+w/(cp*T1))**(cp/R); sh=N**3*float(fP(Q1/N))*(p1/(R*T1))/rho0
    T2=T1+sh/(m*cp)
    # duct 8 m, 2 bends K .23, d=.125 galvanised .09mm: march
    G=m/A1; mu2=mu(T2); Re=G*.125/mu2
    f=brentq(lambda f:1/math.sqrt(f)+2*math.log10(.09e-3/(3.7*.125)+2.51/(Re*math.sqrt(f))),.005,.1)
    K=f*8/.125+2*.23
    p0=p2; n=200
    for i in range(n):
        M2=brentq(lambda x:G*G*R*T2/(k*p0*p0)-x*(1+(k-1)/2*x)**(-(k+1)/(k-1)),0,1)
        p0-=k/2*M2*p0*K/n
    feed=p0
    # plenum dead-end: frictionless-ish ODE static form with friction; guess pl
    Ap=math.pi/4*.1**2; L=.6; CdA=.92*.0012*.6
    def jet(ps):
        x=((ps/pa)**((k-1)/k)-1)*2/(k-1); return pa*math.sqrt(k*x*(1+(k-1)/2*x)/(R*T2))
    def march(pl):
        n=600; p=pl; mm=0
        for i in range(n):
            g=mm/Ap
            M2=0 if g==0 else brentq(lambda x:g*g*R*T2/(k*p*p)-x*(1+(k-1)/2*x)**(-(k+1)/(k-1)),0,1)
            ps=p*(1+(k-1)/2*M2)**(-k/(k-1)); dm=CdA/n*jet(ps)
            Re=max((mm+dm/2)*.1/(Ap*mu2),1); ff=64/Re if Re<2000 else brentq(lambda f:1/math.sqrt(f)+2*math.log10(.045e-3/(3.7*.1)+2.51/(Re*math.sqrt(f))),.005,.1)
            p+=ff/.1*L/n*k/2*M2*p; mm+=dm
        return mm,p
    pl=brentq(lambda pl:march(pl)[0]-m,pa+300,pa+70000)
    need=march(pl)[1]
    out.update(p1=p1,Q1=Q1,rise=p2-p1,T2=T2-273.15,shaft=sh,pl=pl-pa,loss=p2-feed,df=df)
    return feed-need
m=brentq(solve,.07,.14,xtol=1e-7); solve(m)

H=out['shaft']/1e3; belt=.96*(H/(H+1.64))**.05; motor_shaft=out['shaft']/belt
hp=7500/745.69987; e=.902+(.910-.902)*(math.log(hp)-math.log(10))/(math.log(15)-math.log(10))
x=motor_shaft/7500; l2=(1/e-1)/(1+.5625); motor_in=motor_shaft/(x/(x+.5625*l2+l2*x*x))
share=motor_in/(7500/e); grid=motor_in/(.978715*share/(.022227+share)+.001941*share)
print('flow', m, 'grid', grid, 'current', 7500/(math.sqrt(3)*480*e*.85), out)
