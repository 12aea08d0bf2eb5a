import { z } from 'zod';
import type { HostEvent } from '../../src-shared/contract/host-events.ts';
import type { Answer, Question, RequestName } from '../../src-shared/contract/requests.ts';
import { windowCommands } from '../../src-shared/contract/window-commands.ts';
import { type Held, type Host, outOfReach } from './host.ts';

/** What the shell's preload script puts into the page: these three and nothing else. */
export interface Bridge {
  readonly ask: (name: string, question: unknown) => Promise<unknown>;
  readonly hold: (file: File) => Promise<unknown>;
  readonly onEvent: (listener: (event: unknown) => void) => () => void;
}

const heldFile = z.object({ fileId: z.string(), name: z.string() });
const reason = z.object({
  code: z.string(),
  what: z.string(),
  where: z.string(),
  todo: z.string(),
});
const eventSchema: z.ZodType<HostEvent> = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('command'), command: z.enum(windowCommands) }),
  z.object({ kind: z.literal('open'), file: heldFile }),
  z.object({ kind: z.literal('refused'), reason }),
  z.object({ kind: z.literal('may-leave') }),
]);

/** The shell's bridge, where the page has one. */
export function bridgeOf(page: Window): Bridge | null {
  const found: unknown = Reflect.get(page, 'runledger');
  return typeof found === 'object' && found !== null && 'ask' in found ? (found as Bridge) : null;
}

async function answerOf<T>(request: Promise<unknown>): Promise<T | typeof outOfReach> {
  try {
    const answer = await request;
    return typeof answer === 'object' && answer !== null && 'ok' in answer
      ? (answer as T)
      : outOfReach;
  } catch {
    return outOfReach;
  }
}

/** The desktop shell: dialogs, print and menu are the system's own. */
export function connectDesktop(bridge: Bridge): Host {
  const ask = <N extends RequestName>(name: N, question: Question<N>) =>
    answerOf<Answer<N>>(bridge.ask(name, question));
  return {
    kind: 'desktop',
    ask,
    hold: (file) => answerOf<Held>(bridge.hold(file)),
    choose: (what) => ask('file.choose', { what }),
    deliver: () => undefined,
    print: () => ask('app.print', {}),
    onEvent: (listener) =>
      bridge.onEvent((told) => {
        const event = eventSchema.safeParse(told);
        if (event.success) listener(event.data);
      }),
  };
}
