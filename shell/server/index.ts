// What is not listed here is private to the package.
export { buildServer, type ServerOptions } from './build-server.ts';
export { type RunningServer, type StartOptions, startServer } from './start-server.ts';
