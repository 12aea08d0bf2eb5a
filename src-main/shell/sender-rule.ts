/** Who may ask the shell: the page of its one window, in the main frame, and nobody else. */
import { type Refused, refused } from '../services/reasons.ts';
import { isOwnPage } from './own-address.ts';

export interface Sender {
  /** Address of the frame that asks; null: it is gone already. */
  readonly frameAddress: string | null;
  /** The frame is no frame in another one. */
  readonly isMainFrame: boolean;
  readonly isOwnWindow: boolean;
}

/** Why a sender is not heard; null: it is ours. */
export function whyNotHeard(sender: Sender): Refused | null {
  const ours =
    sender.isOwnWindow &&
    sender.isMainFrame &&
    sender.frameAddress !== null &&
    isOwnPage(sender.frameAddress);
  if (ours) return null;
  const what = 'The request does not come from the window.';
  return refused('foreign-sender', what, 'desktop shell', 'End Runledger and start it again.');
}
