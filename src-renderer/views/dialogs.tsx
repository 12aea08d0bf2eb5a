import { cautions, planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';
import { choiceQuestion } from '../state/ask-choice.ts';
import { unsavedQuestion } from '../state/ask-unsaved.ts';
import { project } from '../state/document-store.ts';
import { openRecovery } from '../state/file-actions.ts';
import { acceptCaution, cautionAccepted } from '../state/preferences.ts';
import { discardOffer, offers } from '../state/recovery.ts';
import { dialog } from '../state/view-state.ts';
import { AboutDialog } from './about-dialog.tsx';
import { ChoiceDialog } from './choice-dialog.tsx';
import { ColumnsDialog } from './columns-dialog.tsx';
import { DialogFrame } from './dialog-frame.tsx';
import { HelpDialog } from './help-dialog.tsx';

const close = () => {
  dialog.value = null;
};

function CautionDialog() {
  const first = !cautionAccepted();
  const accept = () => {
    acceptCaution();
    dialog.value = offers.value.length > 0 && first ? 'recoveries' : null;
  };
  return (
    <DialogFrame title="Caution" {...(first ? {} : { onClose: close })}>
      <p class="caution-chief">{planningAidSentence}</p>
      <ul class="cautions">
        {cautions
          .filter((caution) => !caution.includes('workbook'))
          .map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
      </ul>
      <div class="dialog-acts">
        <button type="button" class="chief" onClick={accept}>
          {first ? 'I have read this' : 'Close'}
        </button>
      </div>
    </DialogFrame>
  );
}

function UnsavedDialog({
  answer,
}: {
  readonly answer: (choice: 'save' | 'drop' | 'cancel') => void;
}) {
  return (
    <DialogFrame title="Save your changes?" onClose={() => answer('cancel')}>
      <p>{project.value?.name ?? 'This job'} has changes that stand in no file yet.</p>
      <div class="dialog-acts">
        <button type="button" onClick={() => answer('cancel')}>
          Cancel
        </button>
        <button type="button" onClick={() => answer('drop')}>
          Do not save
        </button>
        <button type="button" class="chief" onClick={() => answer('save')}>
          Save
        </button>
      </div>
    </DialogFrame>
  );
}

function RecoveriesDialog() {
  return (
    <DialogFrame title="Work that was not saved" onClose={close}>
      <p>A window closed before these were saved. Opening one changes no file of yours.</p>
      <ul class="recoveries">
        {offers.value.map(({ recoveryId, name, keptAt }) => (
          <li key={recoveryId}>
            <span>
              <strong>{name}</strong>{' '}
              <span class="quiet">kept {new Date(keptAt).toLocaleString()}</span>
            </span>
            <button
              type="button"
              class="chief"
              onClick={() => {
                close();
                void openRecovery(recoveryId, name);
              }}
            >
              Open
            </button>
            <button type="button" onClick={() => void discardOffer(recoveryId)}>
              Discard
            </button>
          </li>
        ))}
      </ul>
      <div class="dialog-acts">
        <button type="button" onClick={close}>
          Later
        </button>
      </div>
    </DialogFrame>
  );
}

/** The one dialog that is open, if any. The question about unsaved work goes first. */
export function Dialogs() {
  const answer = unsavedQuestion.value;
  if (answer !== null) return <UnsavedDialog answer={answer} />;
  if (choiceQuestion.value !== null) return <ChoiceDialog question={choiceQuestion.value} />;
  switch (dialog.value) {
    case 'caution':
      return <CautionDialog />;
    case 'recoveries':
      return <RecoveriesDialog />;
    case 'help':
      return <HelpDialog onClose={close} />;
    case 'about':
      return <AboutDialog onClose={close} />;
    case 'columns':
      return <ColumnsDialog onClose={close} />;
    default:
      return null;
  }
}
