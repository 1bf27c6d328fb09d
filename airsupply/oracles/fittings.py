"""Reference values for friction, bends, enlargements, tees and Fanno flow, from the public library fluids."""
import csv, math, os
from fluids.friction import friction_factor
from fluids.fittings import (bend_rounded, bend_miter, contraction_sharp, contraction_conical, diffuser_sharp,
                             K_branch_diverging_Crane, K_run_diverging_Crane, K_branch_converging_Crane,
                             K_run_converging_Crane)

HERE = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'testdata')


def write(name, head, rows):
    with open(os.path.join(HERE, name), 'w', newline='') as f:
        w = csv.writer(f, lineterminator='\n')
        w.writerow(head)
        w.writerows(rows)


def friction():
    rows = []
    for re in (4e3, 1e4, 5e4, 1e5, 3e5, 1e6, 1e7):
        for ed in (0, 1e-5, 1e-4, 1e-3, 1e-2, 0.05):
            rows.append([re, ed, friction_factor(Re=re, eD=ed, Method='Clamond')])
    write('friction.csv', ['reynolds', 'roughness_over_bore', 'friction'], rows)


def tees():
    rows = []
    for angle in (45, 90):
        for beta in (0.5, 0.55, 0.75, 1.0):
            for q in (0.25, 0.5, 0.75):
                a = dict(D_run=0.1, D_branch=0.1 * beta, Q_run=1 - q, Q_branch=q, angle=angle)
                rows.append([angle, beta, q, K_branch_diverging_Crane(**a), K_run_diverging_Crane(**a),
                             K_branch_converging_Crane(**a), K_run_converging_Crane(**a)])
    write('tees.csv', ['angle_deg', 'bore_ratio', 'share', 'dividing_side', 'dividing_run', 'converging_side',
                       'converging_run'], rows)


def fittings():
    d, re, f = 0.1, 2.5e5, friction_factor(Re=2.5e5, eD=0.045 / 100)
    rows = []
    for r in (0.75, 1, 1.5, 2, 3, 5):
        for angle in (30, 45, 90):
            ks = []
            for m in ('Rennels', 'Miller', 'Crane'):
                ks.append(bend_rounded(Di=d, angle=angle, fd=f, bend_diameters=r, Re=re, roughness=0.045e-3, method=m))
            rows.append(['bend', r, angle, min(ks), max(ks)])
    for angle in (30, 45, 60, 90):
        ks = [bend_miter(angle=angle, Di=d, Re=re, roughness=0.045e-3, method=m) for m in ('Rennels', 'Miller', 'Crane')]
        rows.append(['mitre', '', angle, min(ks), max(ks)])
    for small in (0.05, 0.075, 0.09):
        rows.append(['contraction', small / d, 180, *[contraction_sharp(Di1=d, Di2=small, fd=f, Re=re, roughness=0.045e-3, method='Rennels')] * 2])
        k = diffuser_sharp(Di1=small, Di2=d, Re=re, roughness=0.045e-3, method='Rennels')
        rows.append(['enlargement', small / d, 180, k, k])
    for angle in (20, 30, 60):
        ks = [contraction_conical(Di1=d, Di2=0.075, fd=f, angle=angle, Re=re, roughness=0.045e-3, method=m) for m in ('Rennels', 'Miller', 'Crane')]
        rows.append(['cone', 0.75, angle, min(ks), max(ks)])
    write('fittings.csv', ['kind', 'ratio', 'angle_deg', 'least', 'greatest'], rows)


def fanno():
    """Exact constant-area adiabatic flow with friction, k 1.4, R 287.05, 330 K static at the inlet."""
    k, gas, t1, pa = 1.4, 287.05, 330.0, 101325.0
    def length(m):
        return (1 - m * m) / (k * m * m) + (k + 1) / (2 * k) * math.log((k + 1) * m * m / (2 + (k - 1) * m * m))
    def total(m):
        return ((2 + (k - 1) * m * m) / (k + 1)) ** ((k + 1) / (2 * (k - 1))) / m
    rows = []
    for pg, v, K in ((1e4, 20, 1), (1e4, 30, 2), (2e4, 30, 3), (2e4, 50, 5), (2e4, 70, 10), (2e4, 100, 2), (3e4, 80, 5)):
        p1 = pa + pg
        m1 = v / math.sqrt(k * gas * t1)
        lo, hi = m1, 1.0
        for _ in range(200):
            mid = (lo + hi) / 2
            if length(m1) - length(mid) < K:
                lo = mid
            else:
                hi = mid
        p01 = p1 * (1 + (k - 1) / 2 * m1 * m1) ** (k / (k - 1))
        rows.append([pg, v, K, p01 * (1 - total(lo) / total(m1))])
    write('fanno.csv', ['gauge_pa', 'velocity_m_s', 'loss_coefficient', 'total_drop_pa'], rows)


friction(); tees(); fittings(); fanno()
