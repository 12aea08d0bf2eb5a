/** A page of one sentence, for a browser that has no business here or comes too late. */
export function noticePage(sentence: string): string {
  return `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Runledger</title><p>${sentence}</p></html>\n`;
}

/** How to get in: said whenever an entry token is missing, used or too old. */
export function howToEnter(canMint: boolean): string {
  const way = canMint
    ? 'press Enter in the terminal where Runledger runs to get a new one'
    : 'end Runledger in its terminal and start it again to get a new one';
  return `This address has been used or is too old: ${way}.`;
}
