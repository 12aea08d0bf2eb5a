/** The words of the check command, read and judged before anything else happens. */
import { parseArgs } from 'node:util';
import { profileIds } from '../../src-shared/document/profile.ts';
import type { PieceChoice, ProfileId } from '../../src-shared/document/project.ts';
import type { BlankFill, FillSource } from '../../src-shared/exchange/fill-blanks.ts';
import { namedConductorOhmPerKm } from '../../src-shared/solve/run-cable.ts';
import { formatConductorSize, parseConductorSize } from '../../src-shared/units/conductor-size.ts';
import { parseQuantity } from '../../src-shared/units/parse-quantity.ts';
import type { QuantityKind } from '../../src-shared/units/quantity.ts';

export interface CheckOptions {
  readonly input: string;
  readonly json: string | null;
  readonly out: string | null;
  readonly force: boolean;
  readonly profile: ProfileId | null;
  readonly hidden: 'read' | 'skip';
  readonly sheet: string | null;
  readonly headerRow: number | null;
  readonly map: ReadonlyMap<string, string>;
  readonly fill: BlankFill;
  readonly fillFrom: FillSource;
  /** Options that only a schedule can take, as given: for the message when the input is a project. */
  readonly scheduleWords: readonly string[];
}

export type ParsedWords =
  | { readonly ok: true; readonly options: CheckOptions }
  | { readonly ok: false; readonly message: string };

/** Thrown inside this module only; becomes the one message. */
class WrongWord extends Error {}

const specification = {
  json: { type: 'string' },
  out: { type: 'string' },
  force: { type: 'boolean' },
  profile: { type: 'string' },
  supply: { type: 'string' },
  'supply-tolerance': { type: 'string' },
  conductor: { type: 'string' },
  'conductor-ohm': { type: 'string' },
  'conductor-reactance': { type: 'string' },
  'line-rating': { type: 'string' },
  breaker: { type: 'string' },
  'max-length': { type: 'string' },
  'home-run': { type: 'string' },
  jumpers: { type: 'string' },
  pieces: { type: 'string' },
  hidden: { type: 'string' },
  sheet: { type: 'string' },
  'header-row': { type: 'string' },
  map: { type: 'string', multiple: true },
} as const;

type Values = ReturnType<typeof readWords>['values'];

function readWords(argv: readonly string[]) {
  return parseArgs({
    args: [...argv],
    options: specification,
    allowPositionals: true,
    strict: true,
    tokens: true,
  });
}

function quantity(word: string, text: string, kind: QuantityKind): number {
  const parsed = parseQuantity(text, kind, { defaultUnit: null, decimal: 'dot' });
  if (!parsed.ok) throw new WrongWord(`${word} ${text}: ${parsed.reason}.`);
  if (parsed.value < 0)
    throw new WrongWord(`${word} ${text}: cannot be negative; give a value of 0 or more.`);
  return parsed.value;
}

function above0(word: string, text: string, kind: QuantityKind): number {
  const value = quantity(word, text, kind);
  if (value === 0) throw new WrongWord(`${word} ${text}: cannot be 0; give a value above 0.`);
  return value;
}

function oneOf<T extends string>(word: string, text: string, allowed: readonly T[]): T {
  const found = allowed.find((a) => a === text);
  if (found === undefined)
    throw new WrongWord(`${word} ${text}: not known; write ${allowed.join(' or ')}.`);
  return found;
}

function conductorName(text: string): string {
  const size = parseConductorSize(text);
  if (!size.ok) throw new WrongWord(`--conductor ${text}: ${size.reason}.`);
  const name = formatConductorSize(size);
  if (namedConductorOhmPerKm(name) === null) {
    throw new WrongWord(
      `--conductor ${text}: no resistance is held for this size; give it by --conductor-ohm.`,
    );
  }
  return name;
}

function jumpers(text: string): number[] {
  const lengths = text
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
  if (lengths.length === 0)
    throw new WrongWord('--jumpers: no length in it; write for example 2ft,8ft,15ft.');
  return lengths.map((part) => above0('--jumpers', part, 'length'));
}

function headerMap(words: readonly string[]): Map<string, string> {
  const map = new Map<string, string>();
  for (const word of words) {
    const at = word.lastIndexOf('=');
    if (at < 1) throw new WrongWord(`--map ${word}: not of the form "Header=column".`);
    const header = word.slice(0, at).trim();
    if (map.has(header))
      throw new WrongWord(`--map ${word}: "${header}" is mapped twice; map it once.`);
    map.set(header, word.slice(at + 1).trim());
  }
  return map;
}

function headerRowOf(text: string): number {
  if (!/^[1-9]\d{0,6}$/.test(text))
    throw new WrongWord(
      `--header-row ${text}: not a row number; write for example --header-row 5.`,
    );
  return Number(text);
}

function tolerance(text: string): number {
  const value = quantity('--supply-tolerance', text, 'percent');
  if (value >= 100) throw new WrongWord(`--supply-tolerance ${text}: must be under 100 %.`);
  return value;
}

function fillOf(v: Values): { fill: BlankFill; fillFrom: FillSource } {
  const fill: Record<string, unknown> = {};
  const fillFrom: Record<string, string> = {};
  const put = (
    key: keyof BlankFill,
    word: keyof typeof specification,
    value: (text: string) => unknown,
  ) => {
    const text = v[word];
    if (typeof text !== 'string') return;
    fill[key] = value(text);
    fillFrom[key] = `option --${word}`;
  };
  put('supplyV', 'supply', (t) => above0('--supply', t, 'voltage'));
  put('supplyTolerancePct', 'supply-tolerance', tolerance);
  put('conductor', 'conductor', conductorName);
  put('exactOhmPerKm', 'conductor-ohm', (t) =>
    quantity('--conductor-ohm', t, 'resistancePerLength'),
  );
  put('exactReactanceOhmPerKm', 'conductor-reactance', (t) =>
    quantity('--conductor-reactance', t, 'resistancePerLength'),
  );
  put('lineRatingA', 'line-rating', (t) => above0('--line-rating', t, 'current'));
  put('breakerA', 'breaker', (t) => above0('--breaker', t, 'current'));
  put('maxLengthM', 'max-length', (t) => above0('--max-length', t, 'length'));
  put('homeRunM', 'home-run', (t) => quantity('--home-run', t, 'length'));
  put('jumperLengthsM', 'jumpers', jumpers);
  put('pieceChoice', 'pieces', (t) =>
    oneOf<PieceChoice>('--pieces', t, ['fewest-joints', 'least-excess']),
  );
  return { fill: fill as BlankFill, fillFrom: fillFrom as FillSource };
}

function judge(argv: readonly string[]): CheckOptions {
  const { values: v, positionals, tokens } = readWords(argv);
  const seen = new Set<string>();
  for (const token of tokens) {
    if (token.kind !== 'option' || token.name === 'map') continue;
    if (seen.has(token.name)) throw new WrongWord(`--${token.name}: given twice; give it once.`);
    seen.add(token.name);
    if (token.value === '')
      throw new WrongWord(`--${token.name}: has no value; write one behind it.`);
  }
  const [input, ...more] = positionals;
  if (input === undefined || input === '') {
    throw new WrongWord(
      'INPUT: no file given; write the schedule (.xlsx, .csv) or the saved project behind "check".',
    );
  }
  if (more.length > 0)
    throw new WrongWord(`${more[0]}: one INPUT only; put names with blanks in quotes.`);
  if (v.out !== undefined && !/\.xlsx$/i.test(v.out)) {
    throw new WrongWord(
      `--out ${v.out}: not an .xlsx name; the marked-up schedule is an .xlsx workbook.`,
    );
  }
  if (v.force === true && v.out === undefined)
    throw new WrongWord('--force: only together with --out.');
  const scheduleWords = (['sheet', 'header-row', 'map', 'hidden'] as const).filter(
    (w) => v[w] !== undefined,
  );
  return {
    input,
    json: v.json ?? null,
    out: v.out ?? null,
    force: v.force ?? false,
    profile: v.profile === undefined ? null : oneOf('--profile', v.profile, profileIds),
    hidden:
      v.hidden === undefined ? 'skip' : oneOf('--hidden', v.hidden, ['read', 'skip'] as const),
    sheet: v.sheet ?? null,
    headerRow: v['header-row'] === undefined ? null : headerRowOf(v['header-row']),
    map: headerMap(v.map ?? []),
    ...fillOf(v),
    scheduleWords,
  };
}

/** Reads the words behind `check`. A wrong word gives one message that begins with it. */
export function parseCheckWords(argv: readonly string[]): ParsedWords {
  try {
    return { ok: true, options: judge(argv) };
  } catch (problem) {
    if (problem instanceof WrongWord) return { ok: false, message: problem.message };
    const text = problem instanceof Error ? problem.message : String(problem);
    const word = /'(-[^' ]*)/.exec(text)?.[1];
    if (word === undefined) return { ok: false, message: `check: ${text}` };
    const known = Object.keys(specification).map((name) => `--${name}`);
    const unknown = /unknown option/i.test(text);
    return {
      ok: false,
      message: unknown
        ? `${word}: no such option; there are ${known.join(' ')}.`
        : `${word.replace(/ <value>.*/, '')}: needs a value; write it behind the option (a value that begins with - as ${word}=VALUE).`,
    };
  }
}
