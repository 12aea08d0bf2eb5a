/** An XML part as a tree with namespaces resolved, for comparing. */
import { SaxesParser } from 'saxes';

export interface XmlNode {
  /** `{namespace}name`. */
  readonly name: string;
  /** `{namespace}name="value"`, sorted; declarations of namespaces left out. */
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (XmlNode | string)[];
}

interface Open {
  name: string;
  attributes: Record<string, string>;
  children: (XmlNode | string)[];
}

export function treeOf(text: string): XmlNode {
  const parser = new SaxesParser({ xmlns: true });
  const root: Open = { name: '', attributes: {}, children: [] };
  const path: Open[] = [root];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag) => {
    const attributes: Record<string, string> = {};
    const sorted = Object.values(tag.attributes).sort((a, b) => (a.name < b.name ? -1 : 1));
    for (const { prefix, local, uri, value, name } of sorted) {
      if (prefix === 'xmlns' || name === 'xmlns') continue;
      attributes[uri === '' ? local : `{${uri}}${local}`] = value;
    }
    const node: Open = { name: `{${tag.uri}}${tag.local}`, attributes, children: [] };
    path.at(-1)?.children.push(node);
    path.push(node);
  });
  parser.on('closetag', () => {
    path.pop();
  });
  const onText = (piece: string) => {
    const { children } = path.at(-1) ?? root;
    const last = children.at(-1);
    if (typeof last === 'string') children[children.length - 1] = last + piece;
    else if (piece !== '') children.push(piece);
  };
  parser.on('text', onText);
  parser.on('cdata', onText);
  parser.write(text).close();
  const [first] = root.children.filter((child) => typeof child !== 'string');
  if (first === undefined || typeof first === 'string') throw new Error('no element');
  return first;
}

export const elementsOf = (node: XmlNode): XmlNode[] =>
  node.children.filter((child): child is XmlNode => typeof child !== 'string');

/** The name without its namespace. */
export const localOf = ({ name }: XmlNode): string => name.slice(name.indexOf('}') + 1);

export function childrenNamed(node: XmlNode, local: string): XmlNode[] {
  return elementsOf(node).filter((child) => localOf(child) === local);
}

/** The first element of a path of names; undefined where there is none. */
export function under(node: XmlNode, ...path: readonly string[]): XmlNode | undefined {
  let at: XmlNode | undefined = node;
  for (const name of path) at = at === undefined ? undefined : childrenNamed(at, name)[0];
  return at;
}
