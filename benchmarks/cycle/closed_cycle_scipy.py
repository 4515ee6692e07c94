"""The closed part of the cycle with SciPy's solve_ivp, written for the benchmark only: the same laws and tables as
core/physics/cycle/closed, with SciPy's own steps. Reads the file that closed-cycle.c reads; prints work per cycle and seconds."""
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp

GAS = 8.31446261815324
d = np.fromfile(sys.argv[1])
cycles = int(sys.argv[2])
bore, stroke, rod, compression, ivc, evo, begin, duration, burned_share = d[4:13]
turning, m, p0, T0, R, wall, factor, reference = d[13:21]
a = d[22:36].tolist()
count, first_h, step_h, centre, half = d[36:41]
cells = d[41:].reshape(-1, 28)
energy_cells = cells[:, :16].reshape(-1, 4, 4)
temperature_cells = cells[:, 16:].reshape(-1, 3, 4)
piston = np.pi / 4 * bore**2
clearance = piston * stroke / (compression - 1)
r = stroke / 2
whole = -np.expm1(-5 * 1.4**3)
heat = factor * 3.26 / turning * bore**-0.2 * 1000**-0.8 * (m * R) ** 0.55
motion = 2.28 * stroke * turning / np.pi


def volume(angle):
    s, c = np.sin(angle), np.cos(angle)
    q = np.sqrt(rod**2 - (r * s) ** 2)
    return clearance + piston * (r * (1 - c) + rod - q), piston * r * s * (1 + r * c / q)


burning = 3.24e-3 * piston * stroke * T0 / (p0 * volume(ivc)[0])


def slopes(angle, y, start, burnt, p_start, v_start):
    p, T, lag_share = y[0], y[1], y[2]
    o = 7 if T > 1000 else 0
    cp = GAS * (a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4]))))
    V, dV = volume(angle)
    energy = p * V
    area = (2 * piston + 4 / bore * V) * V**-0.55
    ratio, change = R / cp, dV / V
    if not burnt:
        lost = heat * motion**0.8 * area * p**0.25 * (T - wall)
        rise = (-change - ratio * lost / energy) / (1 - ratio)
        return [p * rise, ratio * T * rise - lost / (m * cp), 0, energy * change]
    t = (angle - start) / duration
    left = np.exp(-5 * t**3)
    x = burned_share / whole * (1 - left)
    rate = burned_share / whole * 15 / duration * t * t * left
    if t > 1.4:
        x, rate = burned_share, 0.0
    h = GAS * (a[o + 5] + T * (a[o] + T * (a[o + 1] / 2 + T * (a[o + 2] / 3 + T * (a[o + 3] / 4 + T * a[o + 4] / 5)))))
    lag = lag_share / x if x > 1e-12 else 0.0
    place = (h + lag - reference - first_h) / step_h
    cell = int(min(max(place, 0), count - 1))
    u, root = place - cell, p**0.25
    v = (1 / root - centre) / half
    e, q = energy_cells[cell], temperature_cells[cell]
    g = e @ (1, u, u * u, u**3)
    s = e @ (0, 1, 2 * u, 3 * u * u)
    by_h = s @ (1, v, v * v, v**3) / step_h
    by_l = g @ (0, 1, 2 * v, 3 * v * v) * -0.25 / half / root
    hot = q @ (1, u, u * u, u**3) @ (1, v, v * v)
    g = g @ (1, v, v * v, v**3)
    speed = motion + burning * (p - p_start * (v_start / V) ** 1.3)
    per_kelvin = heat * speed**0.8 * area * root
    walls = np.cbrt(x) ** 2
    lost_hot, lost_cool = per_kelvin * walls * (hot - wall), per_kelvin * (1 - walls) * (T - wall)
    cool, per_energy = R * T, m / energy
    stiff = 1 - per_energy * ((1 - x) * ratio * cool + x * (by_h * g + by_l))
    rise = (per_energy * rate * (g - cool - by_h * lag) - change - (ratio * lost_cool + by_h * lost_hot) / energy) / stiff
    cool_loss = lost_cool / ((1 - x) * m)
    return [p * rise, (cool * rise - cool_loss) / cp, x * ((g - cool) * rise + cool_loss) - lost_hot / m, energy * change]


def cycle(start):
    how = dict(rtol=1e-6, atol=[1, 1e-3, 1, 1e-5], method="RK45")
    y = [p0, T0, 0.0, 0.0]
    first = solve_ivp(slopes, (ivc, start), y, args=(start, False, 0, 0), **how).y[:, -1]
    more = (start, True, first[0], volume(start)[0])
    end = start + 1.4 * duration
    second = solve_ivp(slopes, (start, end), first, args=more, **how).y[:, -1]
    return solve_ivp(slopes, (end, evo), second, args=more, **how).y[3, -1]


started = time.process_time()
work = sum(cycle(begin + 1e-6 * k) for k in range(cycles)) / cycles
print(work, (time.process_time() - started) / cycles)
