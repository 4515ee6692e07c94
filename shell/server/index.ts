// What is not listed here is private to the package.
export { buildServer, type ServerOptions } from './build-server.ts';
export { channelsOf, coverageRows } from './encode/coverage.ts';
export { encodeVerdict } from './encode/verdict.ts';
export { readThreshold, writeThresholds } from './forms/thresholds.ts';
export { type RunningServer, type StartOptions, startServer } from './start-server.ts';
