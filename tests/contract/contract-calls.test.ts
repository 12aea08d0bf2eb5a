/** Every request of the contract, through the services directly and through the loopback host. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { requestSchemas } from '../../src-shared/contract/requests.ts';
import { sampleProject } from '../format/sample-project.ts';
import { sampleFile, sampleSource, sampleText } from '../projects/sample-file.ts';
import {
  type Bench,
  type Caller,
  directCaller,
  enter,
  loopbackCaller,
  makeBench,
  startHost,
} from './hosts.ts';

const demo = new Uint8Array(
  readFileSync(new URL('../../src-main/demo/foxglove-roundhouse.xlsx', import.meta.url)),
);

interface Way {
  readonly bench: Bench;
  readonly caller: Caller;
  readonly close: () => Promise<void>;
}

const ways: Readonly<Record<'direct' | 'loopback', () => Promise<Way>>> = {
  direct: async () => {
    const bench = makeBench();
    return { bench, caller: directCaller(bench), close: async () => bench.remove() };
  },
  loopback: async () => {
    const bench = makeBench();
    const host = await startHost(bench);
    const caller = loopbackCaller(await enter(host));
    const close = async () => {
      await host.close();
      bench.remove();
    };
    return { bench, caller, close };
  },
};

/** The value of an answer that must be one. */
function theValue<T>(answer: { ok: true; value: T } | { ok: false; reason: { what: string } }): T {
  if (!answer.ok) throw new Error(answer.reason.what);
  return answer.value;
}

const saveQuestion = {
  projectText: sampleText,
  sourceFileId: null,
  target: null,
  suggestedName: 'Larkspur',
};

describe.each(['direct', 'loopback'] as const)('%s', (name) => {
  let way: Way;
  let caller: Caller;
  beforeAll(async () => {
    way = await ways[name]();
    caller = way.caller;
  });
  afterAll(() => way.close());

  test('app.start', async () => {
    expect(theValue(await caller.ask('app.start', {}))).toEqual({
      host: 'loopback',
      version: '0.1.0',
      launchFile: null,
      recoveries: [],
    });
  });

  test('file.demo gives a copy that opens as a schedule', async () => {
    const file = theValue(await caller.ask('file.demo', {}));
    expect(file.name).toBe('foxglove-roundhouse.xlsx');
    const opened = theValue(await caller.ask('file.open', { fileId: file.fileId }));
    const read = readSourceFile(demo, file.name);
    expect(opened).toEqual({
      kind: 'schedule',
      file,
      workbook: read.ok && 'workbook' in read && read.workbook,
    });
    expect(theValue(await caller.ask('file.demo', {})).fileId).not.toBe(file.fileId);
  });

  test('an upload opens, by its bytes and not by its name', async () => {
    const csv = await caller.upload('Zeitplan „Süd“.csv', Buffer.from('Tag;Load\nA-01;87 W\n'));
    expect(csv.name).toBe('Zeitplan „Süd“.csv');
    expect(theValue(await caller.ask('file.open', { fileId: csv.fileId }))).toMatchObject({
      kind: 'schedule',
      workbook: { kind: 'csv', fileName: csv.name },
    });
    const project = await caller.upload('renamed.xlsx', sampleFile());
    expect(theValue(await caller.ask('file.open', { fileId: project.fileId }))).toMatchObject({
      kind: 'project',
    });
  });

  test('a project gives its text and its source, which opens too', async () => {
    const file = await caller.upload('larkspur.runledger', sampleFile());
    const opened = theValue(await caller.ask('file.open', { fileId: file.fileId }));
    if (opened.kind !== 'project') throw new Error(opened.kind);
    expect(opened).toMatchObject({ file, projectText: sampleText, writable: false });
    expect(opened.source?.name).toBe('larkspur.xlsx');
    const source = theValue(await caller.ask('file.open', { fileId: opened.source?.fileId ?? '' }));
    const read = readSourceFile(sampleSource.bytes, 'larkspur.xlsx');
    expect(source).toMatchObject({
      kind: 'schedule',
      workbook: read.ok && 'workbook' in read && read.workbook,
    });
  });

  test('files that cannot be read say why, in the words of the reader', async () => {
    const cut = await caller.upload('cut.runledger', sampleFile().subarray(0, 2_000));
    expect(await caller.ask('file.open', { fileId: cut.fileId })).toMatchObject({
      ok: false,
      reason: { code: 'cut-off', where: 'cut.runledger', todo: expect.stringMatching(/\.bak/) },
    });
    const empty = await caller.upload('empty.xlsx', new Uint8Array());
    expect(await caller.ask('file.open', { fileId: empty.fileId })).toMatchObject({
      ok: false,
      reason: { code: 'empty', where: 'empty.xlsx' },
    });
    expect(await caller.ask('file.open', { fileId: 'never-given-out' })).toMatchObject({
      ok: false,
      reason: { code: 'unknown-file' },
    });
  });

  test('file.release forgets', async () => {
    const { fileId } = await caller.upload('a.csv', Buffer.from('Tag\nA\n'));
    expect(await caller.ask('file.release', { fileId })).toEqual({ ok: true, value: {} });
    expect(await caller.ask('file.release', { fileId })).toEqual({ ok: true, value: {} });
    expect(await caller.ask('file.open', { fileId })).toMatchObject({
      reason: { code: 'unknown-file' },
    });
  });

  test('project.save as a new file: what leaves is the project with its source', async () => {
    const { fileId } = await caller.upload('larkspur.xlsx', sampleSource.bytes);
    const question = { ...saveQuestion, sourceFileId: fileId };
    const saved = theValue(await caller.ask('project.save', question));
    if (saved.saved !== 'output') throw new Error(saved.saved);
    const bytes = await caller.output(saved.output.outputId);
    expect(saved.output).toMatchObject({ name: 'Larkspur.runledger', bytes: bytes.length });
    expect(bytes).toEqual(sampleFile());
    expect(unpackProject(bytes, 'x')).toMatchObject({ ok: true, project: sampleProject });
  });

  test('project.save is refused with a reason, never done in part', async () => {
    const refusals: readonly [Partial<typeof saveQuestion> | object, string][] = [
      [{ projectText: sampleText.slice(0, -5) }, 'not-json'],
      [
        { projectText: sampleText.replace('"circuits":[{"id":"c1"', '"circuits":[{"id":"c2"') },
        'bad-reference',
      ],
      [{ sourceFileId: 'long-forgotten' }, 'source-gone'],
      [{ target: 'not-the-launch-file' }, 'no-target'],
    ];
    for (const [part, code] of refusals) {
      const answer = await caller.ask('project.save', { ...saveQuestion, ...part });
      expect(answer).toMatchObject({ ok: false, reason: { code } });
      expect(!answer.ok && answer.reason.what).toMatch(/^Not saved\. /);
    }
  });

  test('workbook.export hands the project on and gives a workbook name', async () => {
    const question = { projectText: sampleText, suggestedName: '../Larkspur: marked' };
    const { output } = theValue(await caller.ask('workbook.export', question));
    expect(output.name).toBe('Larkspur marked.xlsx');
    expect(Buffer.from(await caller.output(output.outputId)).toString()).toBe(sampleText);
  });

  test('recovery: kept, offered, replaced, opened with its source, dropped', async () => {
    const { fileId } = await caller.upload('larkspur.xlsx', sampleSource.bytes);
    const question = {
      recoveryId: null,
      projectText: sampleText,
      sourceFileId: fileId,
      name: 'Larkspur',
    };
    const { recoveryId } = theValue(await caller.ask('recovery.keep', question));
    const again = theValue(
      await caller.ask('recovery.keep', { ...question, recoveryId, name: 'Larkspur B' }),
    );
    expect(again).toEqual({ recoveryId });
    const { recoveries } = theValue(await caller.ask('app.start', {}));
    expect(recoveries).toMatchObject([{ recoveryId, name: 'Larkspur B' }]);
    const opened = theValue(await caller.ask('file.open', { fileId: recoveryId }));
    expect(opened).toMatchObject({
      kind: 'project',
      projectText: sampleText,
      source: { name: 'larkspur.xlsx' },
      writable: false,
    });
    expect(await caller.ask('recovery.drop', { recoveryId })).toEqual({ ok: true, value: {} });
    expect(theValue(await caller.ask('app.start', {})).recoveries).toEqual([]);
  });

  test('a question of the wrong form, for every request, is a reason', async () => {
    for (const request of Object.keys(requestSchemas)) {
      for (const body of [null, 7, 'x', [], { surprise: 1 }, { fileId: '../../etc/passwd' }]) {
        expect(await caller.askRaw(request, body)).toMatchObject({
          ok: false,
          reason: { code: 'bad-request', what: expect.any(String), todo: expect.any(String) },
        });
      }
    }
  });
});

describe('the same through either host', () => {
  test('a session of every request gives the same answers, ids and times apart', async () => {
    const transcripts = await Promise.all(
      (['direct', 'loopback'] as const).map(async (name) => {
        const { caller, close } = await ways[name]();
        const said: unknown[] = [];
        const note = <T>(answer: T): T => {
          said.push(answer);
          return answer;
        };
        note(await caller.ask('app.start', {}));
        const demoFile = theValue(note(await caller.ask('file.demo', {})));
        note(await caller.ask('file.open', { fileId: demoFile.fileId }));
        const file = note(await caller.upload('larkspur.runledger', sampleFile()));
        note(await caller.ask('file.open', { fileId: file.fileId }));
        note(await caller.ask('file.open', { fileId: 'never-given-out' }));
        const saved = theValue(note(await caller.ask('project.save', saveQuestion)));
        if (saved.saved === 'output') {
          note(Buffer.from(await caller.output(saved.output.outputId)).toString('base64'));
        }
        note(await caller.ask('workbook.export', { projectText: sampleText, suggestedName: '' }));
        const kept = note(
          await caller.ask('recovery.keep', {
            recoveryId: null,
            projectText: sampleText,
            sourceFileId: null,
            name: 'x',
          }),
        );
        note(await caller.ask('app.start', {}));
        note(await caller.ask('recovery.drop', theValue(kept)));
        note(await caller.ask('file.release', { fileId: file.fileId }));
        note(await caller.askRaw('file.open', { fileId: 7 }));
        await close();
        return JSON.stringify(said)
          .replace(/"(fileId|outputId|recoveryId)":"[^"]+"/g, '"$1":"id"')
          .replace(/"keptAt":"[^"]+"/g, '"keptAt":"time"');
      }),
    );
    expect(transcripts[0]?.length).toBeGreaterThan(10_000);
    expect(transcripts[1]).toBe(transcripts[0]);
  });
});
