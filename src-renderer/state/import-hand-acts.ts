/** Keys and buttons on the cell at hand of the import view. */
import { acceptReadings, readAsInFile, reopenReadings, takeOffer } from './import-acts.ts';
import { importHand } from './import-hand.ts';
import { entriesAtHand } from './import-report.ts';
import { say } from './notice.ts';
import type { ReadingEntry } from './reading-list.ts';

export type HandAct = 'accept' | 'take-offer' | 'as-in-file';

/** The readings an act on the hand is about: the one chosen in the report, else all of the cell. */
function meant(): readonly ReadingEntry[] {
  const all = entriesAtHand.peek();
  const key = importHand.peek()?.readingKey ?? null;
  return key === null ? all : all.filter((entry) => entry.key === key);
}

/** Accepts what is open; where nothing is open any more, opens it again. */
function acceptOrReopen(): void {
  const about = meant();
  const open = about.filter((entry) => entry.open).map(({ reading }) => reading);
  const accepted = about.filter((entry) => entry.accepted).map(({ reading }) => reading);
  if (open.length > 0) acceptReadings(open);
  else if (accepted.length > 0) reopenReadings(accepted);
  else
    say(
      'status',
      about.length === 0 ? 'Nothing to accept here.' : 'Read for sure: nothing to accept.',
    );
}

export function actOnHand(act: HandAct): void {
  const hand = importHand.peek();
  if (hand === null) return;
  switch (act) {
    case 'accept':
      acceptOrReopen();
      return;
    case 'take-offer': {
      const offered = meant().find(({ reading }) => reading.offer !== undefined);
      if (offered === undefined) say('status', 'Nothing is offered for this cell.');
      else void takeOffer(offered.reading);
      return;
    }
    case 'as-in-file':
      void readAsInFile(hand.cell).then((done) => {
        if (!done) say('status', 'It is read as in the file.');
      });
  }
}
