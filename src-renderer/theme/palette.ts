/** The one source of colour. `paletteCss` writes the variables; the contrast test reads the pairs. */

export const tokenNames = [
  'paper',
  'sheet',
  'head',
  'rule',
  'edge',
  'ink',
  'quiet',
  'accent',
  'on-accent',
  'input',
  'at-hand',
  'bar',
  'cap',
  'on-cap',
  'cap-quiet',
  'cap-edge',
  'stop',
  'on-stop',
  'stop-wash',
  'breach',
  'breach-wash',
  'watch',
  'watch-wash',
  'note',
  'note-wash',
  'unchecked',
  'unchecked-wash',
  'unchecked-hatch',
] as const;
export type TokenName = (typeof tokenNames)[number];
export type Palette = Readonly<Record<TokenName, string>>;

/** Measured: every pair below holds in both palettes. */
export const palettes: Readonly<Record<'light' | 'dark', Palette>> = {
  light: {
    paper: '#F7F5F0',
    sheet: '#FFFFFF',
    head: '#ECE8DD',
    rule: '#DCD7CB',
    edge: '#857F72',
    ink: '#1B262C',
    quiet: '#56626A',
    accent: '#1B6B73',
    'on-accent': '#FFFFFF',
    input: '#0F4F8A',
    'at-hand': '#DCECEC',
    bar: '#3F8C93',
    cap: '#1B262C',
    'on-cap': '#FFFFFF',
    'cap-quiet': '#B9C4C9',
    'cap-edge': '#73838B',
    stop: '#86163B',
    'on-stop': '#FFFFFF',
    'stop-wash': '#F8DDE5',
    breach: '#A03F09',
    'breach-wash': '#F9E3D5',
    watch: '#6B5300',
    'watch-wash': '#F5EAC4',
    note: '#375364',
    'note-wash': '#DFE7EC',
    unchecked: '#4A4A45',
    'unchecked-wash': '#EDEAE2',
    'unchecked-hatch': '#D5D0C3',
  },
  dark: {
    paper: '#12181B',
    sheet: '#192023',
    head: '#242D31',
    rule: '#333E43',
    edge: '#7C8A91',
    ink: '#E7EBEA',
    quiet: '#A9B5BA',
    accent: '#66BDC4',
    'on-accent': '#0B1A1C',
    input: '#8FC3F5',
    'at-hand': '#22393D',
    bar: '#4E979E',
    cap: '#0B1012',
    'on-cap': '#F1F4F3',
    'cap-quiet': '#A9B5BA',
    'cap-edge': '#6E7D84',
    stop: '#F3A5B9',
    'on-stop': '#3B0718',
    'stop-wash': '#4A1F2C',
    breach: '#F6B78D',
    'breach-wash': '#46291A',
    watch: '#E9CE6D',
    'watch-wash': '#3B3315',
    note: '#B9CEDB',
    'note-wash': '#2A3942',
    unchecked: '#D2CEC5',
    'unchecked-wash': '#31312D',
    'unchecked-hatch': '#45453F',
  },
};

/** Foreground, ground, least contrast (WCAG 2.2: 4.5 for text, 3 for marks and focus). */
export type ContrastPair = readonly [TokenName, TokenName, number];

const grounds: readonly TokenName[] = ['paper', 'sheet', 'head', 'at-hand'];
const text = (fore: TokenName, on: readonly TokenName[]): ContrastPair[] =>
  on.map((ground) => [fore, ground, 4.5]);
const mark = (fore: TokenName, on: readonly TokenName[]): ContrastPair[] =>
  on.map((ground) => [fore, ground, 3]);

export const contrastPairs: readonly ContrastPair[] = [
  ...text('ink', [
    ...grounds,
    'stop-wash',
    'breach-wash',
    'watch-wash',
    'note-wash',
    'unchecked-wash',
    'unchecked-hatch',
  ]),
  ...text('quiet', grounds),
  ...text('accent', grounds),
  ...text('on-accent', ['accent']),
  ...text('input', [
    ...grounds,
    'stop-wash',
    'breach-wash',
    'watch-wash',
    'note-wash',
    'unchecked-wash',
  ]),
  ...text('on-cap', ['cap']),
  ...text('cap-quiet', ['cap']),
  ...mark('cap-edge', ['cap']),
  ...mark('edge', ['paper', 'sheet']),
  ...mark('bar', ['sheet', 'at-hand', 'head']),
  ...text('on-stop', ['stop']),
  ...mark('stop', grounds),
  ...text('stop', ['stop-wash', 'sheet', 'paper']),
  ...text('breach', ['breach-wash', 'sheet', 'paper']),
  ...mark('breach', grounds),
  ...text('watch', ['watch-wash', 'sheet', 'paper']),
  ...text('note', ['note-wash', 'sheet', 'paper']),
  ...text('unchecked', ['unchecked-wash', 'unchecked-hatch', 'sheet', 'paper']),
];

function declarations(palette: Palette): string {
  return tokenNames.map((name) => `--${name}:${palette[name]};`).join('');
}

/** The custom properties of both palettes: light by default, dark by system or by choice. */
export function paletteCss(): string {
  const { light, dark } = palettes;
  const darkRules = `color-scheme:dark;${declarations(dark)}`;
  return [
    `:root{color-scheme:light;${declarations(light)}}`,
    `@media (prefers-color-scheme:dark){:root:not([data-theme="light"]){${darkRules}}}`,
    `:root[data-theme="dark"]{${darkRules}}`,
  ].join('\n');
}
