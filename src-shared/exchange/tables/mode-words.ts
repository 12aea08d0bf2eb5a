/** Modes of a type in one cell: `5ch = 5, 9ch = 9`, `4ch`, `basic (6)`. */
import type { Mode } from '../../document/project.ts';

export interface ModesRead {
  readonly value: readonly Mode[];
  /** What was not understood; null when all was. */
  readonly refusal: string | null;
}

const slotsName = /^(\d{1,3})\s*-?\s*(?:ch|chs|chan|channels?|slots?)?\.?$/iu;
const nameThenSlots = /^(.*?)\s*[=:]\s*(\d{1,3})\s*(?:ch|chs|channels?|slots?)?\.?$/iu;
const nameInBrackets = /^(.*?)\s*\(\s*(\d{1,3})\s*(?:ch|chs|channels?|slots?)?\.?\s*\)$/iu;
const nameEndingInSlots = /^(.*\D)(\d{1,3})\s*-?\s*(?:ch|chs|channels?|slots?)\.?$/iu;

/** Parts at `,`, `;` or a line end, quoted names whole. */
function parts(text: string): string[] {
  const found: string[] = [];
  let part = '';
  let quoted = false;
  for (const sign of text) {
    if (sign === '"') quoted = !quoted;
    if (!quoted && (sign === ',' || sign === ';' || sign === '\n')) {
      found.push(part);
      part = '';
    } else part += sign;
  }
  found.push(part);
  const plain = found.map((p) => p.trim()).filter((p) => p !== '');
  const [only] = plain;
  const slashed = only?.split('/').map((p) => p.trim()) ?? [];
  return plain.length === 1 && slashed.length > 1 && slashed.every((p) => slotsName.test(p))
    ? slashed
    : plain;
}

function one(part: string): Mode | null {
  const quoted = /^"((?:[^"]|"")*)"\s*=\s*(\d{1,3})$/u.exec(part);
  if (quoted?.[1] !== undefined) {
    return { name: quoted[1].replaceAll('""', '"'), footprint: Number(quoted[2]) };
  }
  const alone = slotsName.exec(part);
  if (alone?.[1] !== undefined) {
    return { name: /^\d+$/u.test(part) ? `${part}ch` : part, footprint: Number(alone[1]) };
  }
  const found = nameThenSlots.exec(part) ?? nameInBrackets.exec(part);
  if (found?.[1] !== undefined && found[1] !== '') {
    return { name: found[1], footprint: Number(found[2]) };
  }
  const ending = nameEndingInSlots.exec(part);
  return ending === null ? null : { name: part, footprint: Number(ending[2]) };
}

/** Reads all modes of a cell. */
export function readModes(text: string): ModesRead {
  const modes: Mode[] = [];
  const bad: string[] = [];
  for (const part of parts(text)) {
    const mode = one(part);
    if (mode === null || mode.footprint < 1 || mode.footprint > 512) bad.push(`"${part}"`);
    else if (!modes.some((m) => m.name === mode.name)) modes.push(mode);
  }
  const refusal = `${bad.join(', ')} not understood as a mode; write its name and its slots: 5ch = 5`;
  return { value: modes, refusal: bad.length === 0 ? null : refusal };
}

/** Modes as `readModes` reads them. */
export function writeModes(modes: readonly Mode[]): string {
  return modes
    .map(({ name, footprint }) => {
      const simple = /^[\p{L}\p{N}](?:[\p{L}\p{N} .+_-]*[\p{L}\p{N}+])?$/u.test(name);
      return `${simple ? name : `"${name.replaceAll('"', '""')}"`} = ${footprint}`;
    })
    .join(', ');
}
