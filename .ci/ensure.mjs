// Run before every script that needs packages: `node .ci/ensure.mjs [--browser]`. Says nothing when all is there.
// With --browser (tests, bench) a Chromium is found too, and packages that do not match the lock file are an error:
// a result would be about other code. The page itself still starts on older packages when there is no network.
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureChromium } from './chromium.mjs';
import { ensurePackages } from './packages.mjs';
import { say } from './say.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const exact = process.argv.includes('--browser');

const packages = ensurePackages(root);
if (packages === 'missing') say('The packages could not be installed. Check the network, then try again.');
if (packages === 'missing' || (packages === 'stale' && exact)) process.exit(1);
if (exact && ensureChromium(root) === null) process.exit(1);
