/** "Not checked: line rating, run A1. Needs watts." */
export function sayNotChecked(title: string, where: string, need: string): string {
  return `Not checked: ${title.toLowerCase()}${where === '' ? '' : `, ${where}`}. Needs ${need}.`;
}
