import type { PackageParts } from './package-parts.ts';
import { PART_ROOTS } from './part-roots.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { MAKE_IT_SMALLER, refuse } from './refusal.ts';
import { attributeOf, walkXml } from './xml-walk.ts';

/** A link from one part to another (ECMA-376 part 2, 6.5). */
export interface Relationship {
  /** Last word of the relationship type: `worksheet`, `comments` … */
  readonly kind: string;
  /** Part name from the root, no leading slash; for one outside, empty. */
  readonly target: string;
  /** Said to be outside of the package. */
  readonly external: boolean;
  /** Outside of the package, said to be or by leading above its root. */
  readonly outside: boolean;
}

function decoded(target: string): string {
  try {
    return decodeURIComponent(target);
  } catch {
    return target;
  }
}

/** Whether a target names a place on a machine or leads above the root of the package. */
function leadsOut(source: string, target: string): boolean {
  const path = decoded(target.replaceAll('\\', '/'));
  if (/^[A-Za-z][A-Za-z0-9+.-]*:|^\/\//.test(path)) return true;
  let depth = path.startsWith('/') ? 0 : source.split('/').length - 1;
  for (const step of path.split('/')) {
    if (step === '..') depth--;
    else if (step !== '' && step !== '.') depth++;
    if (depth < 0) return true;
  }
  return false;
}

/** A target as a part name from the root: `/xl/a.xml` is absolute, `../a.xml` starts at the source. */
export function resolveTarget(source: string, target: string): string {
  const path = decoded(target.replaceAll('\\', '/').split('#')[0] ?? '');
  const steps = path.startsWith('/') ? [] : source.split('/').slice(0, -1);
  for (const step of path.split('/')) {
    if (step === '..') steps.pop();
    else if (step !== '' && step !== '.') steps.push(step);
  }
  return steps.join('/');
}

/** Name of the part that lists the links of `source`; of the package itself for an empty name. */
export function relationshipsPartOf(source: string): string {
  const cut = source.lastIndexOf('/') + 1;
  return `${source.slice(0, cut)}_rels/${source.slice(cut)}.rels`;
}

/**
 * The links of a part by id; empty when it has none. External ones are told, never followed.
 * @throws RefusalError from reading the part
 */
export function readRelationships(parts: PackageParts, source: string): Map<string, Relationship> {
  const found = new Map<string, Relationship>();
  const name = relationshipsPartOf(source);
  const bytes = parts.read(name);
  if (!bytes) return found;
  walkXml(
    bytes,
    parts.where(name),
    {
      open(element, attributes) {
        if (element !== 'Relationship') return;
        if (found.size >= READ_LIMITS.links) {
          const what = `A part of the workbook has more than ${counted(READ_LIMITS.links)} links to others.`;
          refuse('links', what, parts.where(name), MAKE_IT_SMALLER);
        }
        const external = attributeOf(attributes, 'TargetMode')?.toLowerCase() === 'external';
        const written = attributeOf(attributes, 'Target') ?? '';
        const outside = external || leadsOut(source, written);
        let target = outside ? '' : resolveTarget(source, written);
        if (!outside && !parts.has(target)) {
          // Some writers give a name from the root without the slash.
          const fromRoot = resolveTarget('', written);
          if (parts.has(fromRoot)) target = fromRoot;
        }
        const kind = (attributeOf(attributes, 'Type') ?? '').split('/').pop() ?? '';
        found.set(attributeOf(attributes, 'Id') ?? `#${found.size}`, {
          kind,
          target,
          external,
          outside,
        });
      },
    },
    PART_ROOTS.links,
  );
  return found;
}
