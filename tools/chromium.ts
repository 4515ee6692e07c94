import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** Where a Chromium for the browser tests is looked for, first hit wins. KNURL_CHROMIUM names another one. */
const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

/** Options for a headless browser that talks to nobody but this machine. */
export const CHROMIUM_OPTIONS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Path of the browser for the tests, or undefined where there is none. */
export function chromiumPath(): string | undefined {
  return [process.env['KNURL_CHROMIUM'] ?? '', ...PLACES].find((place) => place !== '' && existsSync(place));
}

/** Installs Chromium where it is missing and can be installed, and says plainly what came of it. */
export function ensureChromium(): string {
  const found = chromiumPath();
  if (found !== undefined) return `browser tests use ${found}`;
  const canInstall = process.platform === 'linux' && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get');
  if (canInstall) {
    spawnSync('apt-get', ['update', '-qq'], { stdio: 'ignore' });
    spawnSync('apt-get', ['install', '-y', '-qq', 'chromium'], { stdio: 'ignore' });
  }
  const installed = chromiumPath();
  if (installed !== undefined) return `browser tests use ${installed}, installed just now`;
  return 'No Chromium here and none could be installed: the browser tests are SKIPPED. Install Chromium or name one in KNURL_CHROMIUM to run them.';
}
