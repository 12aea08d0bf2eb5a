import type { PackageParts } from './package-parts.ts';
import { PART_ROOTS } from './part-roots.ts';
import { counted, READ_LIMITS } from './read-limits.ts';
import { MAKE_IT_SMALLER, refuse } from './refusal.ts';
import { type RichText, RichTextCollector } from './rich-text.ts';
import { walkXml, type XmlHandler } from './xml-walk.ts';

/**
 * The strings that cells point to by place.
 * @returns undefined when the package lacks the part
 * @throws RefusalError `shared-strings`, `shared-characters` over a limit, and those of reading a part
 */
export function readSharedStrings(parts: PackageParts, name: string): RichText[] | undefined {
  const bytes = parts.read(name);
  if (!bytes) return undefined;
  const strings: RichText[] = [];
  const collector = new RichTextCollector();
  let inItem = false;
  let characters = 0;
  const handler: XmlHandler = {
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
      const item = collector.take();
      strings.push(item);
      characters += item.text.length;
      if (strings.length > READ_LIMITS.sharedStrings) {
        const limit = counted(READ_LIMITS.sharedStrings);
        const what = `The workbook holds more than ${limit} different texts.`;
        refuse('shared-strings', what, parts.where(name), MAKE_IT_SMALLER);
      }
      if (characters > READ_LIMITS.cellCharacters) {
        const limit = counted(READ_LIMITS.cellCharacters);
        const what = `The texts of the workbook have more than ${limit} characters together.`;
        refuse('shared-characters', what, parts.where(name), MAKE_IT_SMALLER);
      }
    },
  };
  walkXml(bytes, parts.where(name), handler, PART_ROOTS.strings);
  return strings;
}
