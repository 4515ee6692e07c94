/** Knurl's core: quantities with units, numerics, and the physics of engines and rolls. Pure; depends on nothing. */
export * as numerics from './numerics/index.ts';
export * as physics from './physics/index.ts';
export * as quantities from './quantities/index.ts';
