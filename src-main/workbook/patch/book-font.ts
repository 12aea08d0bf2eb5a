import type { BookFont } from '../write-styles.ts';
import type { StylesEdit } from './styles-edit.ts';
import { localName, scanXml } from './xml-scan.ts';

/** Letters of a workbook's plain cells, so that our columns look like the rest. */
export function fontOfBook(styles: StylesEdit): BookFont {
  const xml = styles.item('fonts', Number(styles.xf(0).attributes.fontId ?? 0));
  let name = 'Arial';
  let size = 10;
  if (xml === '') return { name, size };
  scanXml(xml, '', {
    open(tag) {
      const { val } = tag.attributes;
      if (val === undefined) return;
      if (localName(tag.name) === 'name') name = val;
      if (localName(tag.name) === 'sz') size = Number(val);
    },
  });
  return { name, size };
}
