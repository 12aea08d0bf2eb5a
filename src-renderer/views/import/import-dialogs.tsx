import { useState } from 'preact/hooks';
import { project } from '../../state/document-store.ts';
import type { SourceBook } from '../../state/import-books.ts';
import {
  compareRevision,
  leaveRevision,
  revision,
  revisionOf,
  takeRevision,
} from '../../state/import-revise.ts';
import { DialogFrame } from '../dialog-frame.tsx';
import { DifferenceList } from './difference-list.tsx';

/** Which of several source files a copy revises. */
function WhichFile({ book }: { readonly book: SourceBook }) {
  const files = project.value?.source?.files ?? [];
  const [file, setFile] = useState(0);
  return (
    <DialogFrame title="Which file does it revise?" onClose={leaveRevision}>
      <fieldset class="which-file">
        <legend>{book.workbook.fileName} takes the place of</legend>
        {files.map(({ fileName }, at) => (
          <label key={`${at} ${fileName}`}>
            <input type="radio" name="revises" checked={file === at} onChange={() => setFile(at)} />
            {fileName}
          </label>
        ))}
      </fieldset>
      <div class="dialog-acts">
        <button type="button" onClick={leaveRevision}>
          Cancel
        </button>
        <button type="button" class="chief" onClick={() => void compareRevision(book, file)}>
          Compare
        </button>
      </div>
    </DialogFrame>
  );
}

/** What a revised copy would change, to be taken over or left. */
function RevisionDialog() {
  const now = revision.value;
  if (now === null) return null;
  const { fileName, differences } = now;
  return (
    <DialogFrame title={`What is different in ${fileName}`} onClose={leaveRevision} wide>
      <DifferenceList differences={differences} />
      <p class="quiet">
        Your answers and edits are kept. Taking it over is one step of undo; from then on the job
        holds this copy as its source.
      </p>
      <div class="dialog-acts">
        <button type="button" onClick={leaveRevision}>
          Leave
        </button>
        <button type="button" class="chief" onClick={takeRevision}>
          Take over
        </button>
      </div>
    </DialogFrame>
  );
}

export function ImportDialogs() {
  if (revisionOf.value !== null) return <WhichFile book={revisionOf.value} />;
  return revision.value === null ? null : <RevisionDialog />;
}
