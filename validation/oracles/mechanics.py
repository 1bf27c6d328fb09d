"""Reference values from the governing equations, solved by brute force: integrals, maxima, roots and marching, with
none of the closed forms of the program."""
from tables import need, span, logspan, table

need('numpy', 'scipy')

import math  # noqa: E402

import numpy as np  # noqa: E402
from scipy.integrate import quad, solve_ivp  # noqa: E402
from scipy.linalg import solve_banded  # noqa: E402
from scipy.optimize import brentq, minimize_scalar  # noqa: E402
from scipy.stats import beta, binom  # noqa: E402

MU, RHO, SIGMA, G = 1.001567e-3, 998.204, 0.0727361, 9.80665  # clean water at 20 degC


def discharge():
    """Velocity as the integral of dp/rho along an isentrope; the outlet's pressure is ambient or, where that carries
    more, the one of greatest mass flux."""
    rows = []
    gas = 287.05
    for k in (1.4, 1.38):
        for pa, t0 in ((101325, 293.15), (84556, 330)):
            for pg in (200, 1e3, 5e3, 15e3, 30e3, 60e3, 85e3, 100e3, 200e3, 600e3):
                p0 = pa + pg
                rho0 = p0 / (gas * t0)

                def speed(p):
                    return math.sqrt(2 * quad(lambda x: 1 / (rho0 * (x / p0) ** (1 / k)), p, p0, epsabs=0, epsrel=1e-12)[0])

                def flux(p):
                    return rho0 * (p / p0) ** (1 / k) * speed(p)

                best = minimize_scalar(lambda p: -flux(p), bounds=(0.3 * p0, 0.8 * p0), method='bounded', options={'xatol': 1e-4}).x
                p = max(pa, best)
                rows.append([k, pa, t0, pg, speed(p), flux(p), flux(p) * speed(p) + p - pa])
    table('discharge.csv', ['isentropic_exponent', 'ambient_pa', 'temperature_k', 'gauge_pa', 'velocity_m_s', 'mass_flux_kg_s_m2', 'thrust_pa'],
          rows, digits=7)


def wiping():
    """The film that passes is the greatest flux q(h) over the wall's speed."""
    rows = []
    for u in (0.05, 0.3, 1, 3):
        for tau in (0, 2, 20, 100, 300):
            for slope in (0, 1e4, 2e5, 3e6):
                if tau == 0 and slope == 0:
                    continue
                top = min(2 * MU * u / tau if tau else math.inf, math.sqrt(3 * MU * u / slope) if slope else math.inf)
                best = minimize_scalar(lambda x: -(u * x * top - tau * (x * top) ** 2 / (2 * MU) - slope * (x * top) ** 3 / (3 * MU)),
                                       bounds=(0, 1), method='bounded', options={'xatol': 1e-9})
                rows.append([u, tau, slope, -best.fun / u])
    table('wiping.csv', ['speed_m_s', 'shear_pa', 'gradient_pa_m', 'film_m'], rows, digits=8)


def drops():
    """The smallest drop whose drag, pressure and weight outweigh what holds it, scanned and then bisected."""
    rho, nu, drag = 1.2, 1.5e-5, 0.2
    rows = []
    for adv, rec in ((80, 50), (65, 35), (100, 82)):
        a, r = math.radians(adv), math.radians(rec)
        mean = (a + r) / 2
        tall = math.tan(mean / 2)
        volume = math.pi / 48 * tall * (3 + tall ** 2)
        front = (mean - math.sin(mean) * math.cos(mean)) / (4 * math.sin(mean) ** 2)
        for tau, edge in ((2, 40), (10, 60), (40, 90), (120, 150)):
            for v in (0, 0.3, 1.2):
                for slope in (0, 2e5):
                    ca = MU * v / SIGMA
                    hold = 24 / math.pi ** 3 * SIGMA * (math.cos(max(0, r ** 3 - 150 * ca) ** (1 / 3)) - math.cos(min(math.pi, (a ** 3 + 150 * ca) ** (1 / 3))))

                    def surplus(d):
                        friction = math.sqrt(tau / rho)
                        y = tall * d / 2 * friction / nu
                        u = min(edge, friction * (2.5 * math.log(1 + 0.4 * y) + 7.8 * (1 - math.exp(-y / 11) - y / 11 * math.exp(-0.33 * y))))
                        return 0.5 * drag * rho * u * u * front * d ** 2 + volume * d ** 3 * slope - hold * d
                    sizes = logspan(2e-6, 40e-3, 400)
                    for lo, hi in zip(sizes, sizes[1:]):
                        if surplus(hi) > 0:
                            rows.append([adv, rec, tau, edge, v, slope, brentq(surplus, lo, hi, xtol=1e-15, rtol=1e-12)])
                            break
    table('drops.csv', ['advancing_deg', 'receding_deg', 'shear_pa', 'edge_m_s', 'speed_m_s', 'gradient_pa_m', 'diameter_m'], rows)


def crevices():
    """rho L v' = dp - 12 mu L v/w2, L' = -v, integrated until a thousandth is left; and the time at which half is out."""
    rows = []
    for width in (0.05e-3, 0.1e-3, 0.3e-3, 1e-3, 2e-3):
        for length in (2e-3, 10e-3, 45e-3):
            for dp in (200, 1500, 10e3):
                def motion(_, y):
                    return [-y[1], dp / (RHO * y[0]) - 12 * MU * y[1] / (RHO * width ** 2)]

                def out(share):
                    event = lambda _, y: y[0] - share * length  # noqa: E731
                    event.terminal = True
                    return event
                times = []
                for share in (1e-3, 0.5):
                    s = solve_ivp(motion, (0, 1e4), [length, 0], method='LSODA', events=out(share), rtol=1e-10, atol=1e-14)
                    times.append(s.t_events[0][0])
                rows.append([width, length, dp, *times])
    table('crevices.csv', ['width_m', 'length_m', 'pressure_pa', 'clearing_s', 'half_s'], rows, digits=6)


def resting_drops():
    """Evaporation of a cap into still air, over pi R D dc: the exact integral (Popov 2005)."""
    rows = []
    for deg in (1, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 100):
        t = math.radians(deg)

        def part(x):
            if x == 0:
                return 0.0
            return (1 + math.cosh(2 * t * x)) / math.sinh(2 * math.pi * x) * math.tanh((math.pi - t) * x)
        whole = quad(part, 0, 40, epsabs=1e-13, epsrel=1e-12, limit=400)[0]
        rows.append([deg, math.sin(t) / (1 + math.cos(t)) + 4 * whole])
    table('resting_drops.csv', ['contact_angle_deg', 'rate'], rows)


def counts():
    """Bounds of a reject rate after Clopper and Pearson, and the sample that proves one."""
    rows = []
    for n in (20, 300, 3000, 100000):
        for k in (0, 1, 4, 19):
            for c in (0.8, 0.95, 0.99):
                low = beta.ppf((1 - c) / 2, k, n - k + 1) if k else 0.0
                rows.append([k, n, c, low, beta.ppf(1 - (1 - c) / 2, k + 1, n - k), beta.ppf(c, k + 1, n - k)])
    table('reject_bounds.csv', ['rejects', 'sample', 'confidence', 'low', 'high', 'upper'], rows)
    rows = []
    for p in (0.2, 0.03, 1e-3, 1e-4):
        for k in (0, 1, 3, 10):
            for c in (0.8, 0.95, 0.99):
                lo, hi = k, int(60 * (k + 1) / p)
                while hi - lo > 1:
                    mid = (lo + hi) // 2
                    if binom.cdf(k, mid, p) <= 1 - c:
                        hi = mid
                    else:
                        lo = mid
                rows.append([p, c, k, hi])
    table('samples.csv', ['rate', 'confidence', 'rejects', 'sample'], rows)


def boundary_layer(sharpness, round_jet):
    """Wall shear of a laminar boundary layer under the velocity that a Gaussian impact pressure leaves along the
    wall, ue = us sqrt(1 - exp(-c X2)), over rho us2 sqrt(nu/(us h)): the momentum equation in Falkner-Skan variables,
    marched from the stagnation point by an implicit scheme; for the round jet after Mangler's transformation.

        f''' + a f f'' + m (1 - f'2) = X (f' df'/dX - f'' df/dX),  m = X/ue due/dX,  a = (m + 1)/2, round (m + 3)/2
    """
    eta = np.linspace(0, 14, 1401)
    d = eta[1] - eta[0]
    n = len(eta)

    def ue(x):
        return math.sqrt(-math.expm1(-sharpness * x * x))

    def exponent(x):
        e = math.exp(-sharpness * x * x)
        return sharpness * x * x * e / -math.expm1(-sharpness * x * x)

    def integral(u):
        return np.concatenate([[0], np.cumsum((u[1:] + u[:-1]) / 2 * d)])

    def station(x, step, u0, f0, u):
        """u = f' at x, from the profiles a step before; step 0 is the similar start."""
        m = exponent(x) if x > 0 else 1.0
        a = (m + 3) / 2 if round_jet else (m + 1) / 2
        for _ in range(200):
            f = integral(u)
            rate = x / step if step else 0.0
            # u'' + (a f + rate (f - f0)) u' - m u2 - rate u (u - u0) + m = 0, linearised in u.
            c1 = a * f + rate * (f - f0)
            ab = np.zeros((3, n))
            rhs = np.full(n, -m)
            ab[1, 1:-1] = -2 / d ** 2 - 2 * m * u[1:-1] - rate * (2 * u[1:-1] - u0[1:-1])
            ab[0, 2:] = 1 / d ** 2 + c1[1:-1] / (2 * d)
            ab[2, :-2] = 1 / d ** 2 - c1[1:-1] / (2 * d)
            rhs[1:-1] = -m - (m + rate) * u[1:-1] ** 2
            ab[1, 0] = ab[1, -1] = 1
            rhs[0], rhs[-1] = 0, 1
            new = solve_banded((1, 1), ab, rhs)
            change = np.max(np.abs(new - u))
            u = 0.5 * (u + new) if change > 0.3 else new
            if change < 1e-11:
                break
        return u, integral(u)

    u, f = station(0.0, 0.0, np.zeros(n), np.zeros(n), 1 - np.exp(-1.2 * eta))
    steps = 1200
    last = 3.2 * 0.155
    out = []
    for i in range(1, steps + 1):
        x, h = last * i / steps, last / steps
        u, f = station(x, h, u, f, u)
        slope = (-3 * u[0] + 4 * u[1] - u[2]) / (2 * d)
        out.append((x, ue(x) ** 1.5 / math.sqrt(x) * slope))
    return out


def shear():
    for name, c, round_jet in (('plane', 38.5, False), ('round', 100, True)):
        march = boundary_layer(c, round_jet)
        rows = [[x, t] for i, (x, t) in enumerate(march) if i % 12 == 11]
        table(f'shear_{name}.csv', ['offset_over_distance', 'shear'], rows, digits=5)


discharge()
wiping()
drops()
crevices()
resting_drops()
counts()
shear()
