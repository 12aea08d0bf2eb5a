import {
  type LevelResult,
  type RunResult,
  voltsAtDrop,
} from '../../src-shared/solve/run-result.ts';
import { formatNumber, formatTrimmed } from '../../src-shared/units/format-quantity.ts';
import { type FigureFrame, type RunFigure, roundTicks, voltRange } from './run-figure.ts';

export interface VoltageProfileProps {
  readonly run: RunResult;
  readonly figure: RunFigure;
  readonly frame: FigureFrame;
  /** Branch drop limit in percent of the supply. */
  readonly limitPct: number;
  readonly atHand: string | null;
  readonly broken: ReadonlySet<string>;
}

const height = 190;
const top = 8;
const bottom = 22;

/** Volts along the run at the three supply levels, under the drawing and on its scale. */
export function VoltageProfile(props: VoltageProfileProps) {
  const { run, figure, frame, limitPct, atHand, broken } = props;
  const { nominal, low, high } = run;
  const limitV = nominal === null ? null : voltsAtDrop(nominal, limitPct);
  const range = voltRange(run, limitV);
  if (nominal === null || range === null || limitV === null) return null;
  const yOf = (volts: number) =>
    top + ((range.highV - volts) / (range.highV - range.lowV)) * (height - top - bottom);
  const path = (level: LevelResult) => {
    const points = [[figure.panelX, yOf(level.supplyV)]];
    figure.tapX.forEach((x, index) => {
      points.push([x, yOf(level.voltsV[index] ?? level.supplyV)]);
    });
    return points.map(([x = 0, y = 0]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ');
  };
  const end = frame.width - frame.right;
  const here = run.facts.findIndex(({ fixture }) => fixture.id === atHand);
  const hereX = figure.tapX[here];
  const hereV = nominal.voltsV[here];
  const lastV = nominal.voltsV.at(-1) ?? nominal.supplyV;
  const label = `Volts along run ${run.run.name}: ${formatNumber(nominal.supplyV, 0)} V at the panel, ${formatNumber(lastV, 2)} V at the last fixture; limit ${formatNumber(limitV, 2)} V.`;
  return (
    <svg class="profile" viewBox={`0 0 ${frame.width} ${height}`} role="img" aria-label={label}>
      {roundTicks(range).map((tick) => (
        <g key={tick}>
          <line x1={frame.left} x2={end} y1={yOf(tick)} y2={yOf(tick)} class="chart-rule" />
          <text x={frame.left - 6} y={yOf(tick) + 3.5} class="figure-text end">
            {formatTrimmed(tick, 1)}
          </text>
        </g>
      ))}
      {low !== null && <polyline points={path(low)} class="level-thin" />}
      {high !== null && <polyline points={path(high)} class="level-thin" />}
      {low !== null && <LevelName level={low} x={end} y={yOf(low.voltsV.at(-1) ?? 0)} word="low" />}
      {high !== null && (
        <LevelName level={high} x={end} y={yOf(high.voltsV.at(-1) ?? 0)} word="high" />
      )}
      <line x1={frame.left} x2={end} y1={yOf(limitV)} y2={yOf(limitV)} class="limit-line" />
      <text x={frame.left + 4} y={yOf(limitV) - 4} class="limit-text">
        limit {formatTrimmed(limitPct, 2)} %: {formatNumber(limitV, 1)} V
      </text>
      <polyline points={path(nominal)} class="level-nominal" />
      {figure.tapX.map((x, index) => {
        const id = run.facts[index]?.fixture.id ?? '';
        const y = yOf(nominal.voltsV[index] ?? nominal.supplyV);
        const r = run.facts.length > 40 ? 1.8 : 3;
        return (
          <circle
            key={id}
            cx={x}
            cy={y}
            r={r}
            class={`tap${broken.has(id) ? ' tap-breach' : ''}`}
          />
        );
      })}
      {hereX !== undefined && hereV !== undefined && (
        <g>
          <line x1={hereX} x2={hereX} y1={top} y2={height - bottom} class="here-line" />
          <circle cx={hereX} cy={yOf(hereV)} r="5.5" class="here-ring" />
        </g>
      )}
      <text x={figure.panelX} y={height - 6} class="figure-text middle">
        panel
      </text>
      <text
        x={figure.boxX}
        y={height - 6}
        class={`figure-text ${figure.boxX - figure.panelX < 60 ? 'hidden' : 'middle'}`}
      >
        box
      </text>
      <text x={end} y={height - 6} class="figure-text end">
        {run.facts.at(-1)?.fixture.tag ?? 'last'}
      </text>
    </svg>
  );
}

function LevelName(props: {
  readonly level: LevelResult;
  readonly x: number;
  readonly y: number;
  readonly word: string;
}) {
  return (
    <text x={props.x + 4} y={props.y + 3.5} class="figure-text">
      {props.word}
    </text>
  );
}
