/*
 * The closed part of the cycle in C, written for the benchmark only: the same steps, laws and tables as
 * core/physics/cycle/closed, one function per function there. Reads what TypeScript prepared, prints the sum of the work and
 * processor seconds per cycle.
 *
 * File, doubles: cycles, steps of compression, burning, expansion; bore, stroke, rod, compression ratio; intake closes,
 * exhaust opens, start of burning, duration, burned share; ω, mass, pressure, temperature, gas constant, wall temperature,
 * heat factor, burned reference, octane; 14 coefficients of the unburned gas; cells, first enthalpy, step, centre and half width
 * of p^(-1/4); then 28 per cell.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define MOST 4096
static double volume[MOST], change[MOST], heatArea[MOST], motored[MOST], share[MOST], rate[MOST], hotWalls[MOST];
static double traceP[MOST], traceSlope[MOST], traceT[MOST], traceHot[MOST], traceShare[MOST], delayRate[MOST], traceAngle[MOST];
static double a[22], *cells;
static double shapeStep = -1, shapeShare[MOST], shapeRate[MOST], shapeWalls[MOST];
static double R, wall, heat, motionHeat, motion, burning, startPressure, reference;
static double state[7];
static double firstH, perStep, centre, perHalf;
static int cellCount;
static const double GAS = 8.31446261815324;

static double fifthRoot(double r) {
  double t = (r - 1.5) * (1 / 0.7);
  if (t < -1 || t > 1) return pow(r, 0.2);
  double square = t * t;
  double low = 1.08447216 + 0.101217205 * t + square * (-0.0189064175 + 0.00529540388 * t);
  double high = -0.00166739979 + 0.000588120518 * t + square * (-0.000319166663 + 0.000125282885 * t);
  return low + square * square * high;
}

static void oneZone(int j, int node, int steps, double h) {
  double m = state[3], perMass = 1 / m, p0 = state[0], T0 = state[1], work = state[4], loss = state[5];
  double p = p0, T = T0, sumP = 0, sumT = 0, sumWork = 0, sumHeat = 0;
  for (int look = 0; look <= 4 * steps; look++) {
    int o = T > 1000 ? 11 : 0;
    double perHeatCapacity = 1 / (a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4]))));
    double lost = motionHeat * heatArea[j] * sqrt(sqrt(p)) * (T - wall);
    double ratio = R * perHeatCapacity, energy = p * volume[j];
    double rise = (-change[j] - ratio * lost / energy) / (1 - ratio);
    double dp = p * rise, dT = ratio * T * rise - lost * perMass * perHeatCapacity;
    int stage = look & 3;
    if (stage == 0) traceP[node] = p, traceSlope[node] = dp, traceT[node] = T, traceHot[node] = NAN, traceShare[node++] = 0;
    double weight = stage == 0 || stage == 3 ? h / 6 : h / 3;
    sumP += weight * dp, sumT += weight * dT, sumWork += weight * energy * change[j], sumHeat += weight * lost;
    if (stage < 3) {
      double on = stage == 2 ? h : 0.5 * h;
      p = p0 + on * dp, T = T0 + on * dT;
      if (stage != 1) j++;
    } else {
      p0 += sumP, T0 += sumT, work += sumWork, loss += sumHeat;
      p = p0, T = T0, sumP = sumT = sumWork = sumHeat = 0;
    }
  }
  state[0] = p0, state[1] = T0, state[4] = work, state[5] = loss;
}

static void twoZones(int j, int node, int steps, double h) {
  double m = state[3], perMass = 1 / m, p0 = state[0], T0 = state[1], lag0 = state[2], work = state[4], loss = state[5];
  double p = p0, T = T0, shareLag = lag0, sumP = 0, sumT = 0, sumLag = 0, sumWork = 0, sumHeat = 0;
  for (int look = 0; look <= 4 * steps; look++) {
    int o = T > 1000 ? 11 : 0;
    double perHeatCapacity = 1 / (a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4]))));
    double enthalpy = a[o + 5] + T * (a[o + 6] + T * (a[o + 7] + T * (a[o + 8] + T * (a[o + 9] + T * a[o + 10]))));
    double ratio = R * perHeatCapacity, cool = R * T, x = share[j], lag = x > 0 ? shareLag / x : 0;
    double root = sqrt(sqrt(p)), perRoot = 1 / root;
    double place = (enthalpy + lag - reference - firstH) * perStep;
    int cell = place < 1 ? 0 : place >= cellCount - 1 ? cellCount - 1 : (int)place;
    double u = place - cell, v = (perRoot - centre) * perHalf, g[4], d[4], t[3];
    const double *c = cells + cell * 28;
    for (int k = 0; k < 4; k++) {
      const double *q = c + 4 * k;
      g[k] = q[0] + u * (q[1] + u * (q[2] + u * q[3]));
      d[k] = q[1] + 2 * u * q[2] + 3 * u * u * q[3];
    }
    for (int k = 0; k < 3; k++) {
      const double *q = c + 16 + 4 * k;
      t[k] = q[0] + u * (q[1] + u * (q[2] + u * q[3]));
    }
    double energyOf = g[0] + v * (g[1] + v * (g[2] + v * g[3]));
    double byH = (d[0] + v * (d[1] + v * (d[2] + v * d[3]))) * perStep;
    double byL = (g[1] + v * (2 * g[2] + v * 3 * g[3])) * (-0.25 * perHalf) * perRoot;
    double hot = t[0] + v * (t[1] + v * t[2]);
    double quarter = sqrt(sqrt(1 + burning * (p - startPressure * motored[j])));
    double perKelvin = motionHeat * quarter * quarter * quarter * fifthRoot(quarter) * heatArea[j] * root, walls = hotWalls[j];
    double lostHot = perKelvin * walls * (hot - wall), lostCool = perKelvin * (1 - walls) * (T - wall);
    double energy = p * volume[j], perVolume = 1 / energy, perEnergy = m * perVolume;
    double stiff = 1 - perEnergy * ((1 - x) * ratio * cool + x * (byH * energyOf + byL));
    double burn = perEnergy * rate[j] * (energyOf - cool - byH * lag);
    double rise = (burn - change[j] - (ratio * lostCool + byH * lostHot) * perVolume) / stiff;
    double coolLoss = lostCool * perMass / (1 - x);
    double dp = p * rise, dT = (cool * rise - coolLoss) * perHeatCapacity;
    double dLag = x * ((energyOf - cool) * rise + coolLoss) - lostHot * perMass;
    int stage = look & 3;
    if (stage == 0) traceP[node] = p, traceSlope[node] = dp, traceT[node] = T, traceHot[node] = hot, traceShare[node++] = x;
    double weight = stage == 0 || stage == 3 ? h / 6 : h / 3;
    sumP += weight * dp, sumT += weight * dT, sumLag += weight * dLag;
    sumWork += weight * energy * change[j], sumHeat += weight * (lostHot + lostCool);
    if (stage < 3) {
      double on = stage == 2 ? h : 0.5 * h;
      p = p0 + on * dp, T = T0 + on * dT, shareLag = lag0 + on * dLag;
      if (stage != 1) j++;
    } else {
      p0 += sumP, T0 += sumT, lag0 += sumLag, work += sumWork, loss += sumHeat;
      p = p0, T = T0, shareLag = lag0, sumP = sumT = sumLag = sumWork = sumHeat = 0;
    }
  }
  state[0] = p0, state[1] = T0, state[2] = lag0, state[4] = work, state[5] = loss;
}

static void shapeBurning(double step, int count) {
  shapeStep = step;
  for (int i = 0; i < count; i++) {
    double t = i * step, left = exp(-5 * t * t * t);
    double x = t < 0.02 ? 5 * t * t * t * (1 - 2.5 * t * t * t) : 1 - left, c = cbrt(x);
    shapeShare[i] = x;
    shapeRate[i] = t * t * left;
    shapeWalls[i] = c * c;
  }
}

static double bore, stroke, rod, compression;

static void volumes(int from, int node, int steps, double first, double step) {
  double piston = M_PI / 4 * bore * bore, clearance = piston * stroke / (compression - 1), r = stroke / 2;
  double scale = pow(clearance, -0.55), perClearance = 1 / clearance, hs = step / 2, ts = sin(hs), tc = cos(hs), s = sin(first), c = cos(first);
  for (int i = 0; i <= 2 * steps; i++) {
    int j = from + i;
    double q = sqrt(rod * rod - r * r * s * s), V = clearance + piston * (r * (1 - c) + rod - q);
    volume[j] = V;
    change[j] = piston * r * s * (1 + r * c / q) / V;
    double quarter = sqrt(sqrt(V * perClearance)), square = quarter * quarter, whole = square * fifthRoot(quarter);
    heatArea[j] = scale * (2 * piston + 4 / bore * V) / whole;
    motored[j] = 1 / (whole * square * quarter);
    if ((i & 1) == 0) traceAngle[node + i / 2] = first + i * hs;
    double next = s * tc + c * ts;
    c = c * tc - s * ts;
    s = next;
  }
}

int main(int count, char **names) {
  FILE *file = fopen(names[1], "rb");
  static double d[100000];
  size_t got = fread(d, sizeof(double), 100000, file);
  fclose(file);
  if (count < 2 || got < 46) return 1;
  int cycles = (int)d[0], nc = (int)d[1], nb = (int)d[2], ne = (int)d[3];
  bore = d[4], stroke = d[5], rod = d[6], compression = d[7];
  double ivc = d[8], evo = d[9], begin = d[10], duration = d[11], burnedShare = d[12];
  double turning = d[13], m = d[14], p0 = d[15], T0 = d[16];
  R = d[17], wall = d[18];
  double factor = d[19], octane = d[21];
  reference = d[20];
  for (int range = 0; range < 2; range++) {
    double *to = a + 11 * range, *from = d + 22 + 7 * range;
    to[5] = GAS * from[5];
    for (int k = 0; k < 5; k++) {
      to[k] = GAS * from[k];
      to[6 + k] = to[k] / (k + 1);
    }
  }
  cellCount = (int)d[36], firstH = d[37], perStep = 1 / d[38], centre = d[39], perHalf = 1 / d[40];
  cells = d + 41;
  double total = 0, knockTotal = 0;
  clock_t started = clock();
  for (int cycle = 0; cycle < cycles; cycle++) {
    double start = begin + 1e-6 * cycle;
    double end = start + 1.4 * duration;
    if (end > evo) end = evo;
    int p1 = 2 * nc + 1, p2 = 2 * (nc + nb) + 2;
    double h0 = (start - ivc) / nc, h1 = (end - start) / nb, h2 = (evo - end) / ne;
    volumes(0, 0, nc, ivc, h0);
    volumes(p1, nc, nb, start, h1);
    volumes(p2, nc + nb, ne, end, h2);
    double whole = -expm1(-5 * 1.4 * 1.4 * 1.4), sh = burnedShare / whole, ra = sh * 5 * 3 / duration;
    for (int j = 0; j < p1; j++) share[j] = 0;
    double step = start + 1.4 * duration > evo ? h1 / 2 / duration : 1.4 / (2 * nb), scaleWalls = cbrt(sh);
    scaleWalls *= scaleWalls;
    if (step != shapeStep) shapeBurning(step, 2 * nb + 1);
    for (int i = 0; i <= 2 * nb; i++) {
      int j = p1 + i;
      share[j] = sh * shapeShare[i];
      rate[j] = ra * shapeRate[i];
      hotWalls[j] = scaleWalls * shapeWalls[i];
    }
    for (int j = p2; j <= p2 + 2 * ne; j++) {
      share[j] = share[p2 - 1];
      rate[j] = 0;
      hotWalls[j] = hotWalls[p2 - 1];
    }
    double displacement = M_PI / 4 * bore * bore * stroke;
    motion = 2.28 * stroke * turning / M_PI;
    heat = factor * 3.26 / turning * pow(bore, -0.2) * pow(1000, -0.8) * pow(m * R, 0.55);
    motionHeat = heat * pow(motion, 0.8);
    burning = 3.24e-3 * displacement * T0 / (p0 * volume[0] * motion);
    for (int k = 0; k < 7; k++) state[k] = 0;
    state[0] = p0, state[1] = T0, state[3] = m;
    oneZone(0, 0, nc, h0);
    startPressure = state[0] / motored[p1];
    twoZones(p1, nc, nb, h1);
    twoZones(p2, nc + nb, ne, h2);
    double scale = -log(17.68e-3) - 3.402 * log(octane / 100) - 1.7 * log(101325), knock = 0;
    int stop = nc + nb / 2;
    for (int i = 0; i <= stop; i++) delayRate[i] = exp(scale + 1.7 * log(traceP[i]) - 3800 / traceT[i]);
    for (int i = 0; i < nc; i += 2) knock += h0 / 3 * (delayRate[i] + 4 * delayRate[i + 1] + delayRate[i + 2]);
    for (int i = nc; i < stop; i += 2) knock += h1 / 3 * (delayRate[i] + 4 * delayRate[i + 1] + delayRate[i + 2]);
    total += state[4];
    knockTotal += knock / turning;
  }
  double seconds = (double)(clock() - started) / CLOCKS_PER_SEC;
  printf("%.17g %.17g %.17g\n", total / cycles, knockTotal / cycles, seconds / cycles);
  return 0;
}
