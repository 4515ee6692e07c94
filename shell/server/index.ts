// What is not listed here is private to the package.
export { buildServer, type ServerOptions } from './build-server.ts';
export { encodeAdvice } from './encode/advice/advice.ts';
export { encodeSeries } from './encode/cooler.ts';
export { channelsOf, coverageRows } from './encode/coverage.ts';
export { entryStop, healthStop } from './encode/day-stop.ts';
export { encodeHealth } from './encode/health.ts';
export { type AskedStep, encodeLimits } from './encode/limits.ts';
export { encodeNext } from './encode/next-limits.ts';
export { encodeRoom } from './encode/room.ts';
export { encodeScaled } from './encode/scaled.ts';
export { encodeVerdict } from './encode/verdict.ts';
export { readGoal } from './forms/read-goal.ts';
export { type RoomAsked, readKeep, readRoom } from './forms/read-room.ts';
export { readSeries } from './forms/read-series.ts';
export { readStep } from './forms/read-step.ts';
export { readThreshold, writeThresholds } from './forms/thresholds.ts';
export { type RunningServer, type StartOptions, startServer } from './start-server.ts';
