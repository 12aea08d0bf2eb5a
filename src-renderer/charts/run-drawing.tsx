import type { RunResult } from '../../src-shared/solve/run-result.ts';
import { formatLength } from '../../src-shared/units/format-quantity.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import { strokeFor } from '../grid/run-line.ts';
import type { FigureFrame, RunFigure } from './run-figure.ts';

export interface RunDrawingProps {
  readonly run: RunResult;
  readonly figure: RunFigure;
  readonly frame: FigureFrame;
  readonly unit: LengthUnit;
  readonly atHand: string | null;
  readonly broken: ReadonlySet<string>;
  readonly onPick: (fixtureId: string) => void;
}

const height = 74;
const y = 34;

function segments({ run, figure }: RunDrawingProps) {
  const level = run.nominal;
  const head = level?.headA ?? 0;
  return figure.tapX.map((x, index) => {
    const from = index === 0 ? figure.boxX : (figure.tapX[index - 1] ?? figure.boxX);
    const width = level === null ? 1.5 : strokeFor(level.throughA[index] ?? 0, head);
    const id = run.facts[index]?.fixture.id ?? String(index);
    return (
      <line
        key={id}
        x1={from}
        x2={x}
        y1={y}
        y2={y}
        class={level === null ? 'line-unsolved' : 'line-solved'}
        stroke-width={width.toFixed(2)}
      />
    );
  });
}

/** Panel, home run, head box, lead-in, taps and terminator, to the scale of the cable laid. */
export function RunDrawing(props: RunDrawingProps) {
  const { run, figure, frame, unit, atHand, broken, onPick } = props;
  const { circuit, facts } = run;
  const panel = [circuit.panel, circuit.name].filter((word) => word !== null).join(' ');
  const last = figure.tapX.at(-1) ?? figure.boxX;
  const crowded = facts.length > 40;
  return (
    <svg
      class="run-drawing"
      viewBox={`0 0 ${frame.width} ${height}`}
      role="img"
      aria-label={`Run ${run.run.name}: panel, home run, head box, ${facts.length} taps, terminator`}
    >
      <line x1={figure.panelX} x2={figure.boxX} y1={y} y2={y} class="home-run" />
      <rect x={figure.panelX - 9} y={y - 9} width="18" height="18" class="panel-box" />
      <text x={Math.max(2, figure.panelX - 9)} y={y + 26} class="figure-text">
        {panel === '' ? 'panel not given' : panel}
      </text>
      {run.homeRunKnown && (
        <text x={(figure.panelX + figure.boxX) / 2 + 2} y={y - 10} class="figure-text middle">
          {formatLength(run.homeRunM, unit)}
        </text>
      )}
      {segments(props)}
      <rect x={figure.boxX - 5} y={y - 7} width="10" height="14" class="line-box" />
      <line x1={last + 7} x2={last + 7} y1={y - 8} y2={y + 8} class="line-end" />
      {figure.tapX.map((x, index) => {
        const fixture = facts[index]?.fixture;
        if (fixture === undefined) return null;
        const here = fixture.id === atHand;
        const looked = run.nominal === null ? ' tap-unsolved' : '';
        const mark = broken.has(fixture.id) ? ' tap-breach' : looked;
        const state = `${mark}${here ? ' tap-here' : ''}`;
        return (
          // biome-ignore lint/a11y/noStaticElementInteractions: the grid's rows are the keyboard's way to a fixture
          <g key={fixture.id} class={`tap-group${state}`} onClick={() => onPick(fixture.id)}>
            <title>{`${fixture.tag ?? 'no tag'}, place ${fixture.place ?? '?'}`}</title>
            <rect x={x - 5} y={y - 14} width="10" height="34" class="tap-reach" />
            {!crowded && <line x1={x} x2={x} y1={y + 4} y2={y + 13} class="tail" />}
            <circle cx={x} cy={y} r={crowded ? 2.5 : 4} class={`tap${state}`} />
          </g>
        );
      })}
      <text x={frame.width - frame.right + 8} y={y + 26} class="figure-text end">
        {run.installedTotalM === null
          ? 'installed length not known'
          : `${formatLength(run.installedTotalM, unit, 1)} installed`}
      </text>
    </svg>
  );
}
