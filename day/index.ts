/** Knurl's working day as values: channels, pulls, reports. Pure; depends on nothing but the core. */
export * as channels from './channels/index.ts';
export * as pulls from './pulls/index.ts';
export * as reports from './reports/index.ts';
