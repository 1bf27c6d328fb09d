"""Reference values of the distribution along an end-fed plenum, regain 1: scipy integrates from the dead end."""
import csv, math, os
from scipy.integrate import solve_ivp, quad

HERE = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'testdata')
rows = []
for m in (0.1, 0.2, 0.3, 0.5, 0.8):
    for F in (0, 0.5, 1, 2, 3, 5, 10):
        # s from the dead end; total head e = v^2 + u^2 in units of the dead end's, u the through speed.
        def rates(s, y):
            e, u = y
            return [F * u * u, m * math.sqrt(max(e - u * u, 0))]
        sol = solve_ivp(rates, (0, 1), (1.0, 0.0), rtol=1e-12, atol=1e-14, dense_output=True)
        v = lambda s: math.sqrt(max(sol.sol(s)[0] - sol.sol(s)[1] ** 2, 0))
        head = math.sqrt(sol.y[0, -1])
        grid = [v(i / 20000) for i in range(20001)]
        u0 = sol.y[1, -1]
        rows.append([m, F, v(1) / head, 1 / head, u0 / m / head, (max(grid) - min(grid)) / max(grid), u0 / head])
with open(os.path.join(HERE, 'plenum.csv'), 'w', newline='') as f:
    w = csv.writer(f, lineterminator='\n')
    w.writerow(['opening', 'friction', 'at_feed', 'at_end', 'mean', 'non_uniformity', 'feed_speed'])
    w.writerows(rows)
