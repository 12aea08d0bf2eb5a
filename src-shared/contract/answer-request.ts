import {
  type Answer,
  type Handlers,
  isRequestName,
  type Question,
  type Reason,
  type RequestName,
  requestSchemas,
} from './requests.ts';

function reasonOf(code: string, what: string, where: string, todo: string): Reason {
  return { code, what, where, todo };
}

async function answerOf<N extends RequestName>(
  handlers: Handlers,
  name: N,
  body: unknown,
): Promise<Answer<N>> {
  const parsed = requestSchemas[name].safeParse(body);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    const where = [name, ...(issue?.path ?? [])].join('.');
    return {
      ok: false,
      reason: reasonOf(
        'bad-request',
        issue?.message ?? 'The request is not of its form.',
        where,
        'Reload the window; if it happens again, report it.',
      ),
    };
  }
  return handlers[name](parsed.data as Question<N>);
}

/**
 * The border: parses a request by its schema and hands it to the host's handler. Never throws; an
 * unknown name, a body of the wrong form and a fault of ours are all answered with a reason.
 */
export async function answerRequest(
  handlers: Handlers,
  name: string,
  body: unknown,
): Promise<Answer<RequestName>> {
  if (!isRequestName(name)) {
    return {
      ok: false,
      reason: reasonOf(
        'unknown-request',
        `There is no request "${name.slice(0, 60)}".`,
        'window',
        'Reload the window.',
      ),
    };
  }
  try {
    return await answerOf(handlers, name, body);
  } catch (fault) {
    const what = fault instanceof Error ? fault.message : String(fault);
    return {
      ok: false,
      reason: reasonOf(
        'fault',
        `A fault of ours: ${what}`,
        name,
        'Save your work under a new name and report this.',
      ),
    };
  }
}
