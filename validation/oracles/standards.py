"""Reference values from public libraries of standards: iapws (water, steam, humid air) and fluids (atmosphere,
air, nozzles, compression)."""
from tables import need, span, logspan, table

need('iapws', 'fluids')

import warnings  # noqa: E402

from fluids import C_long_radius_nozzle, isentropic_T_rise_compression, nozzle_expansibility  # noqa: E402
from fluids.atmosphere import ATMOSPHERE_1976  # noqa: E402
from iapws import IAPWS97  # noqa: E402
from iapws._iapws import _Liquid, _Sublimation_Pressure, _Tension  # noqa: E402
from iapws.humidAir import HumidAir  # noqa: E402
from iapws.iapws97 import _PSat_T  # noqa: E402

ZERO = 273.15
warnings.filterwarnings('ignore')  # humid air looks for the ice line near 0 degC and says so


def water():
    """Liquid at 0.1 MPa (SR6-08), its surface tension (R1-76) and heat of evaporation (IF97)."""
    rows = []
    for t in [0.01, 2, 4, 7, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 90, 95]:
        liquid = _Liquid(ZERO + t, 0.1)
        heat = IAPWS97(T=ZERO + t, x=1).h - IAPWS97(T=ZERO + t, x=0).h
        rows.append([t, _Tension(ZERO + t), liquid['mu'], liquid['rho'], 1e3 * heat])
    table('water.csv', ['temperature_c', 'tension_n_m', 'viscosity_pa_s', 'density_kg_m3', 'latent_heat_j_kg'], rows)


def saturation():
    """Over ice from the sublimation curve (R14-08), over water from IF97."""
    rows = [[t, 1e6 * float(_Sublimation_Pressure(ZERO + t))] for t in span(-60, -1, 12)]
    rows += [[t, 1e6 * _PSat_T(ZERO + t)] for t in span(1, 199, 34)]
    table('saturation.csv', ['temperature_c', 'pressure_pa'], rows)


def humid_air():
    """Density of humid air from the equation of state of its two real gases (G8-10): the density is chosen, the
    pressure follows without iteration. Water stays vapour in every row. A is the share of dry air in the mass."""
    rows = []
    for rho in (0.7, 0.95, 1.2, 1.6, 2.0):
        for t, w in ((-10, 0.001), (0, 0.002), (10, 0.003), (20, 0.0001), (20, 0.006), (35, 0.015), (50, 0.01), (60, 0.06), (80, 0.02), (100, 0.02), (140, 0.01)):
            rows.append([1e6 * HumidAir(T=ZERO + t, rho=rho, A=1 / (1 + w)).P, t, w, rho])
    table('humid_air.csv', ['pressure_pa', 'temperature_c', 'humidity_ratio', 'density_kg_m3'], rows)


def atmosphere():
    """U.S. Standard Atmosphere 1976; the library takes geometric heights, the geopotential ones are written."""
    rows = []
    for z in span(-500, 11000, 24):
        a = ATMOSPHERE_1976(z)
        rows.append([a.H, a.P, a.T])
    table('atmosphere.csv', ['geopotential_m', 'pressure_pa', 'temperature_k'], rows)


def air():
    """Viscosity and thermal conductivity of the same atmosphere's air."""
    rows = [[t, ATMOSPHERE_1976.viscosity(t), ATMOSPHERE_1976.thermal_conductivity(t)] for t in span(200, 480, 29)]
    table('air.csv', ['temperature_k', 'viscosity_pa_s', 'conductivity_w_m_k'], rows)


def nozzles():
    """Expansibility of a nozzle in a wide pipe, and the discharge coefficient of a long-radius one (ISO 5167-3).

    The bore ratio is 1e-3 in the first: its fourth power does not count. In the second the coefficient's bore ratio
    cancels against that of the pipe's Reynolds number, so any ratio gives the same."""
    rows = []
    for k in (1.30, 1.35, 1.399, 1.4, 1.667):
        for pa in (70e3, 101325):
            for pg in (100, 500, 2e3, 5e3, 10e3, 20e3, 35e3, 50e3, 60e3):
                rows.append([k, pa, pg, nozzle_expansibility(D=1, Do=1e-3, P1=pa + pg, P2=pa, k=k)])
    table('expansibility.csv', ['isentropic_exponent', 'ambient_pa', 'gauge_pa', 'expansibility'], rows)
    rows = []
    rho, mu, bore, pipe = 1.2, 1.8e-5, 0.02, 0.05
    for re in logspan(5e3, 1e6, 12):
        m = re * 3.141592653589793 * bore * mu / 4
        rows.append([re, C_long_radius_nozzle(D=pipe, Do=bore, rho=rho, mu=mu, m=m)])
    table('long_radius_nozzle.csv', ['reynolds', 'discharge_coefficient'], rows)


def compression():
    """Temperature rise of an isentropic compression."""
    rows = []
    for t in (263.15, 293.15, 313.15):
        for k in (1.38, 1.4):
            for ratio in (1.001, 1.05, 1.2, 1.5, 2, 4, 8):
                rows.append([t, k, ratio, isentropic_T_rise_compression(t, 1e5, ratio * 1e5, k) - t])
    table('compression.csv', ['inlet_k', 'isentropic_exponent', 'pressure_ratio', 'rise_k'], rows)


water()
saturation()
humid_air()
atmosphere()
air()
nozzles()
compression()
