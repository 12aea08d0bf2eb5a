const kinds = {
  any: '.xlsx,.csv,.tsv,.txt,.runledger',
  schedule: '.xlsx,.csv,.tsv,.txt',
} as const;

/** The browser's own dialog. Null: it was closed. */
export function chooseInPage(page: Document, what: 'any' | 'schedule'): Promise<File | null> {
  return new Promise((resolve) => {
    const input = page.createElement('input');
    input.type = 'file';
    input.accept = kinds[what];
    input.addEventListener('change', () => resolve(input.files?.[0] ?? null));
    input.addEventListener('cancel', () => resolve(null));
    input.click();
  });
}
