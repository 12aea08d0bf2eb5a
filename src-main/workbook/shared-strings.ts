import type { PackageParts } from './package-parts.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { MAKE_IT_SMALLER, refuse } from './refusal.ts';
import { type RichText, RichTextCollector } from './rich-text.ts';
import { walkXml } from './xml-walk.ts';

/**
 * The strings that cells point to by place.
 * @returns undefined when the package lacks the part
 * @throws RefusalError `shared-strings` over the limit, and those of reading a part
 */
export function readSharedStrings(parts: PackageParts, name: string): RichText[] | undefined {
  const bytes = parts.read(name);
  if (!bytes) return undefined;
  const strings: RichText[] = [];
  const collector = new RichTextCollector();
  let inItem = false;
  walkXml(bytes, parts.where(name), {
    open(element, attributes) {
      if (element === 'si') inItem = true;
      else if (inItem) collector.open(element, attributes);
    },
    text(text) {
      if (inItem) collector.text(text);
    },
    close(element) {
      if (element !== 'si') {
        if (inItem) collector.close(element);
        return;
      }
      inItem = false;
      strings.push(collector.take());
      if (strings.length > READ_LIMITS.sharedStrings) {
        refuse(
          'shared-strings',
          `The workbook holds more than ${counted(READ_LIMITS.sharedStrings)} different texts.`,
          parts.where(name),
          MAKE_IT_SMALLER,
        );
      }
    },
  });
  return strings;
}
