import { planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';
import { hostVersion } from '../state/start.ts';
import { DialogFrame } from './dialog-frame.tsx';

/** Parts of others, in the window and behind it, with the licence each is under. */
const parts: readonly (readonly [string, string])[] = [
  ['AG Grid Community', 'MIT'],
  ['Preact and Preact Signals', 'MIT'],
  ['math.js', 'Apache-2.0'],
  ['Zod', 'MIT'],
  ['Electron (the desktop window)', 'MIT'],
  ['ExcelJS, fflate, csv-parse, numfmt', 'MIT'],
  ['saxes', 'ISC'],
  ['IBM Plex Sans', 'SIL Open Font License 1.1'],
];

export function AboutDialog({ onClose }: { readonly onClose: () => void }) {
  return (
    <DialogFrame title="About Runledger" onClose={onClose}>
      <p>
        Runledger {hostVersion.value}. From a fixture schedule to runs that can be bought, wired,
        addressed and approved. MIT licence.
      </p>
      <p>{planningAidSentence}</p>
      <p>It works offline and connects to nothing but the program on this computer.</p>
      <h3>Made with</h3>
      <ul class="licences">
        {parts.map(([name, licence]) => (
          <li key={name}>
            {name} <span class="quiet">{licence}</span>
          </li>
        ))}
      </ul>
      <div class="dialog-acts">
        <button type="button" class="chief" onClick={onClose}>
          Close
        </button>
      </div>
    </DialogFrame>
  );
}
