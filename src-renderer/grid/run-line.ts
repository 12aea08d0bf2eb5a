/** The first column: each run drawn down its rows as one line, as thick as the current through it. */
import { type FixtureRow, type HeadRow, ownFindings } from '../state/row-model.ts';
import { worstOf } from '../state/severity-words.ts';
import { headRowHeight, rowHeight } from './grid-theme.ts';

const svgSpace = 'http://www.w3.org/2000/svg';
const width = 26;
const centre = width / 2;

function make(tag: string, attributes: Readonly<Record<string, string | number>>): SVGElement {
  const element = document.createElementNS(svgSpace, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  return element;
}

/** Stroke width for a share of the run's greatest current: 1.5 to 7 px. */
export function strokeFor(throughA: number, headA: number): number {
  return headA <= 0 ? 1.5 : 1.5 + 5.5 * Math.min(1, throughA / headA);
}

function segment(y1: number, y2: number, stroke: number | null): SVGElement {
  const solved = stroke !== null;
  return make('line', {
    x1: centre,
    x2: centre,
    y1,
    y2,
    class: solved ? 'line-solved' : 'line-unsolved',
    'stroke-width': solved ? stroke.toFixed(2) : 1.5,
  });
}

function canvas(height: number): SVGElement {
  return make('svg', {
    width,
    height,
    viewBox: `0 0 ${width} ${height}`,
    class: 'run-line',
    'aria-hidden': 'true',
  });
}

/** The box a run starts at, with the lead-in leaving below. */
export function drawRunStart(row: HeadRow): SVGElement {
  const svg = canvas(headRowHeight);
  if (row.run === null) return svg;
  const headA = row.run.nominal?.headA ?? null;
  svg.append(segment(14, headRowHeight, headA === null ? null : strokeFor(headA, headA)));
  svg.append(make('rect', { x: centre - 7, y: 8, width: 14, height: 12, class: 'line-box' }));
  return svg;
}

/** A tap on the line; the last one ends in the terminator's bar. */
export function drawTap(row: FixtureRow): SVGElement {
  const svg = canvas(rowHeight);
  const { run, index } = row;
  if (run === null || index < 0) return svg;
  const level = run.nominal;
  const head = level?.headA ?? 0;
  const stroke = (at: number) => (level === null ? null : strokeFor(level.throughA[at] ?? 0, head));
  const middle = rowHeight / 2;
  const last = index === run.facts.length - 1;
  svg.append(segment(0, middle, stroke(index)));
  svg.append(
    segment(
      middle,
      last ? rowHeight - 3 : rowHeight,
      last ? (level === null ? null : 1.5) : stroke(index + 1),
    ),
  );
  if (last) {
    svg.append(
      make('line', {
        x1: centre - 7,
        x2: centre + 7,
        y1: rowHeight - 2.5,
        y2: rowHeight - 2.5,
        class: 'line-end',
      }),
    );
  }
  const worst = worstOf(ownFindings(row));
  const broken = worst === 'stop' || worst === 'breach';
  // A tap of an unsolved run must not look like one that was looked at.
  const state = broken ? ` tap-${worst}` : level === null ? ' tap-unsolved' : '';
  svg.append(make('circle', { cx: centre, cy: middle, r: 4.5, class: `tap${state}` }));
  return svg;
}
