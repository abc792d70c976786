// Installs what is missing on a fresh machine: the packages always, the browser for the tests where apt is to be had.
import { execSync, spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';

const run = (command) => execSync(command, { stdio: 'inherit' });
const stamp = 'node_modules/.package-lock.json';
const stale = !existsSync(stamp) || statSync('package-lock.json').mtimeMs > statSync(stamp).mtimeMs;
if (stale) run('npm ci --no-audit --no-fund');

if (process.argv.includes('--browser')) {
  const has = (name) => spawnSync('which', [name]).status === 0;
  if (!has('chromium') && has('apt-get')) {
    try {
      run('apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq chromium > /dev/null');
    } catch {
      console.error('chromium could not be installed; the tests that need a browser will say so');
    }
  }
}
