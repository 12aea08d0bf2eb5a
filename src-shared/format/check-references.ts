/** Keys and references of a project: each key once, each reference to something that is there. */
import { keyOf, type TableName } from '../document/change.ts';
import type { Project } from '../document/project.ts';
import { type FormatReason, OPEN_A_BACKUP } from './format-reason.ts';

const tables: readonly TableName[] = ['types', 'lines', 'supplies', 'circuits', 'runs', 'fixtures'];

function broken(what: string, where: string): FormatReason {
  return { code: 'bad-reference', what, where, todo: OPEN_A_BACKUP };
}

function duplicateKey(project: Project, table: TableName): FormatReason | null {
  const seen = new Set<string>();
  for (const [index, record] of project[table].entries()) {
    const key = keyOf(table, record);
    if (seen.has(key)) return broken(`"${key}" stands in ${table} twice.`, `${table}[${index}]`);
    seen.add(key);
  }
  return null;
}

/** The first key that stands twice or reference that leads nowhere; null when all is in order. */
export function checkReferences(project: Project): FormatReason | null {
  for (const table of tables) {
    const twice = duplicateKey(project, table);
    if (twice !== null) return twice;
  }
  const circuits = new Set(project.circuits.map((circuit) => circuit.id));
  for (const [index, { name, circuitId }] of project.runs.entries()) {
    if (!circuits.has(circuitId)) {
      const what = `Run "${name}" is on circuit "${circuitId}", which is not in the project.`;
      return broken(what, `runs[${index}].circuitId`);
    }
  }
  const runs = new Set(project.runs.map((run) => run.name));
  for (const [index, { id, tag, run }] of project.fixtures.entries()) {
    if (run !== null && !runs.has(run)) {
      const what = `Fixture "${tag ?? id}" is on run "${run}", which is not in the project.`;
      return broken(what, `fixtures[${index}].run`);
    }
  }
  return null;
}
