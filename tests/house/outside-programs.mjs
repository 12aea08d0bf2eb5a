/**
 * Programs from outside that the tests compare with: found, fetched where that may be done, or
 * named as missing. Plain JavaScript: it runs before anything is built.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** @param {string} program @param {readonly string[]} words */
function works(program, words) {
  return spawnSync(program, words, { stdio: 'ignore', timeout: 60_000 }).status === 0;
}

/** @param {string} module */
function pythonHas(module) {
  return ['python3', '/usr/bin/python3'].some((python) =>
    works(python, ['-c', `import ${module}`]),
  );
}

async function playwrightChromium() {
  const { chromium } = await import('playwright');
  return existsSync(chromium.executablePath());
}

const systemChromium = () =>
  ['chromium', 'chromium-browser', 'google-chrome'].some((name) => works(name, ['--version']));

/** Debian package, and how to tell that the program is there. */
const programs = [
  {
    name: 'Chromium',
    debian: 'chromium',
    there: async () => systemChromium() || (await playwrightChromium()),
  },
  { name: 'ngspice', debian: 'ngspice', there: async () => works('ngspice', ['--version']) },
  { name: 'scipy', debian: 'python3-scipy', there: async () => pythonHas('scipy') },
  { name: 'openpyxl', debian: 'python3-openpyxl', there: async () => pythonHas('openpyxl') },
  { name: 'XlsxWriter', debian: 'python3-xlsxwriter', there: async () => pythonHas('xlsxwriter') },
  {
    name: 'LibreOffice Calc',
    debian: 'libreoffice-calc-nogui',
    there: async () => works('soffice', ['--version']),
  },
  { name: 'pdftoppm', debian: 'poppler-utils', there: async () => works('pdftoppm', ['-v']) },
];

const isRoot = () => process.getuid?.() === 0;

/** @param {readonly string[]} packages */
function installDebian(packages) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const options = /** @type {const} */ ({ stdio: ['ignore', 'ignore', 'inherit'], env });
  spawnSync('apt-get', ['update', '-qq'], options);
  spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], options);
}

/**
 * Looks for every program and fetches what is missing: Debian packages as root, else Playwright's
 * own Chromium. RUNLEDGER_NO_FETCH=1 forbids fetching. Gives the names still missing.
 * @returns {Promise<string[]>}
 */
export async function prepareOutsidePrograms() {
  const missing = [];
  for (const program of programs) if (!(await program.there())) missing.push(program);
  if (missing.length === 0 || process.env.RUNLEDGER_NO_FETCH === '1')
    return missing.map((p) => p.name);
  if (isRoot() && works('apt-get', ['--version'])) {
    console.error(`Fetching from Debian: ${missing.map((p) => p.debian).join(', ')}`);
    installDebian(missing.map((p) => p.debian));
  } else if (missing.some((p) => p.name === 'Chromium')) {
    console.error('Fetching Playwright’s own Chromium');
    spawnSync('npx', ['playwright', 'install', 'chromium'], {
      stdio: ['ignore', 'ignore', 'inherit'],
      timeout: 300_000,
    });
  }
  const still = [];
  for (const program of missing) if (!(await program.there())) still.push(program.name);
  return still;
}
