import type { PackageParts } from './package-parts.ts';
import { attributeOf, walkXml } from './xml-walk.ts';

/** A link from one part to another (ECMA-376 part 2, 6.5). */
export interface Relationship {
  /** Last word of the relationship type: `worksheet`, `comments` … */
  readonly kind: string;
  /** Part name from the root, no leading slash; for an external one, empty. */
  readonly target: string;
  readonly external: boolean;
}

function decoded(target: string): string {
  try {
    return decodeURIComponent(target);
  } catch {
    return target;
  }
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
  walkXml(bytes, parts.where(name), {
    open(element, attributes) {
      if (element !== 'Relationship') return;
      const external = attributeOf(attributes, 'TargetMode')?.toLowerCase() === 'external';
      const written = attributeOf(attributes, 'Target') ?? '';
      let target = external ? '' : resolveTarget(source, written);
      if (!external && !parts.has(target)) {
        // Some writers give a name from the root without the slash.
        const fromRoot = resolveTarget('', written);
        if (parts.has(fromRoot)) target = fromRoot;
      }
      const kind = (attributeOf(attributes, 'Type') ?? '').split('/').pop() ?? '';
      found.set(attributeOf(attributes, 'Id') ?? `#${found.size}`, { kind, target, external });
    },
  });
  return found;
}
