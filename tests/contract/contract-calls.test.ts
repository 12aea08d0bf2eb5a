/**
 * Every request of the contract: straight to the services, through the loopback host over HTTP, and
 * through the desktop shell's border over a stub of Electron.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { unpackProject } from '../../src-main/projects/unpack-project.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import { jobTitle, projectFileName, workbookFileName } from '../../src-renderer/state/job-text.ts';
import { type Answer, type Left, requestSchemas } from '../../src-shared/contract/requests.ts';
import { sampleProject } from '../format/sample-project.ts';
import { sampleFile, sampleSource, sampleText, secondSource } from '../projects/sample-file.ts';
import { dialogAnswers, resetStub } from '../shell/electron-stub.ts';
import { desktopCaller, openDesktop } from './desktop-caller.ts';
import {
  type Caller,
  directCaller,
  enter,
  loopbackCaller,
  makeBench,
  makeParts,
  startHost,
} from './hosts.ts';

vi.mock('electron', () => import('../shell/electron-stub.ts'));

const demo = new Uint8Array(
  readFileSync(new URL('../../src-main/demo/foxglove-roundhouse.xlsx', import.meta.url)),
);

interface Way {
  readonly host: 'loopback' | 'desktop';
  readonly caller: Caller;
  /** Folder of the host's own files. */
  readonly state: string;
  readonly close: () => Promise<void>;
}

const ways: Readonly<Record<'direct' | 'loopback' | 'desktop', () => Promise<Way>>> = {
  direct: async () => {
    const bench = makeBench();
    const close = async () => bench.remove();
    return { host: 'loopback', caller: directCaller(bench), state: bench.folder, close };
  },
  loopback: async () => {
    const bench = makeBench();
    const host = await startHost(bench);
    const caller = loopbackCaller(await enter(host));
    const close = async () => {
      await host.close();
      bench.remove();
    };
    return { host: 'loopback', caller, state: bench.folder, close };
  },
  desktop: async () => {
    resetStub();
    const folder = mkdtempSync(join(tmpdir(), 'runledger-contract-'));
    await openDesktop({ folder, parts: makeParts(folder, []) });
    const close = async () => rmSync(folder, { recursive: true, force: true });
    return { host: 'desktop', caller: desktopCaller(folder), state: folder, close };
  },
};

/** The value of an answer that must be one. */
function theValue<T>(answer: { ok: true; value: T } | { ok: false; reason: { what: string } }): T {
  if (!answer.ok) throw new Error(answer.reason.what);
  return answer.value;
}

const saveQuestion = {
  projectText: sampleText,
  sourceFileIds: [] as string[],
  target: null,
  overwrite: false,
  suggestedName: 'Larkspur',
};

test('the longest names the window makes of a job are taken', () => {
  const long = { name: 'n'.repeat(500), revision: 'r'.repeat(500) };
  const { suggestedName } = requestSchemas['project.save'].shape;
  for (const name of [jobTitle(long), projectFileName(long), workbookFileName(long)]) {
    expect(suggestedName.safeParse(name).success).toBe(true);
    expect(requestSchemas['recovery.keep'].shape.name.safeParse(name).success).toBe(true);
  }
});

describe.each(['direct', 'loopback', 'desktop'] as const)('%s', (name) => {
  let way: Way;
  let caller: Caller;
  beforeAll(async () => {
    way = await ways[name]();
    caller = way.caller;
  });
  afterAll(() => way.close());

  test('app.start', async () => {
    expect(theValue(await caller.ask('app.start', {}))).toEqual({
      host: way.host,
      version: '0.1.0',
      launchFile: null,
      recoveries: [],
      memory: {},
      remarks: [],
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

  test('a project gives its text and its sources in order, which open too', async () => {
    const both = sampleFile([sampleSource, secondSource]);
    const file = await caller.upload('larkspur.runledger', both);
    const opened = theValue(await caller.ask('file.open', { fileId: file.fileId }));
    if (opened.kind !== 'project') throw new Error(opened.kind);
    expect(opened).toMatchObject({ file, projectText: sampleText, writable: false });
    expect(opened.sources.map(({ name }) => name)).toEqual(['larkspur.xlsx', 'install.xlsx']);
    const [{ fileId } = { fileId: '' }] = opened.sources;
    const source = theValue(await caller.ask('file.open', { fileId }));
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

  test('project.save as a new file: what leaves is the project with its sources', async () => {
    const one = await caller.upload('larkspur.xlsx', sampleSource.bytes);
    const two = await caller.upload('install.xlsx', secondSource.bytes);
    const sourceFileIds = [one.fileId, two.fileId];
    const saved = theValue(await caller.ask('project.save', { ...saveQuestion, sourceFileIds }));
    if (saved.saved === 'in-place') throw new Error(saved.saved);
    const bytes = await caller.arrived(saved);
    expect(bytes).toEqual(sampleFile([sampleSource, secondSource]));
    expect(unpackProject(bytes, 'x')).toMatchObject({ ok: true, project: sampleProject });
    if (saved.saved !== 'output') return;
    expect(saved.output).toMatchObject({ name: 'Larkspur.runledger', bytes: bytes.length });
  });

  test('project.save is refused with a reason, never done in part', async () => {
    const refusals: readonly [Partial<typeof saveQuestion> | object, string][] = [
      [{ projectText: sampleText.slice(0, -5) }, 'not-json'],
      [
        { projectText: sampleText.replace('"circuits":[{"id":"c1"', '"circuits":[{"id":"c2"') },
        'bad-reference',
      ],
      [{ sourceFileIds: ['long-forgotten'] }, 'source-gone'],
      [{ target: 'not-known-by-path' }, 'no-target'],
    ];
    for (const [part, code] of refusals) {
      const answer = await caller.ask('project.save', { ...saveQuestion, ...part });
      expect(answer).toMatchObject({ ok: false, reason: { code } });
      expect(!answer.ok && answer.reason.what).toMatch(/^Not saved\. /);
    }
  });

  test('workbook.export: a new workbook, or the source with marks in it, or why not', async () => {
    const first = await caller.upload('larkspur.xlsx', sampleSource.bytes);
    const second = await caller.upload('install.xlsx', secondSource.bytes);
    const question = {
      projectText: sampleText,
      sourceFileIds: [first.fileId, second.fileId],
      into: null,
      suggestedName: '../Larkspur: marked',
    };
    const made = theValue(await caller.ask('workbook.export', question));
    expect(made.remarks).toEqual([]);
    if (made.saved === 'output') expect(made.output.name).toBe('Larkspur marked.xlsx');
    expect(Buffer.from(await caller.arrived(made)).toString()).toBe(sampleText);

    const marked = theValue(await caller.ask('workbook.export', { ...question, into: 1 }));
    expect(marked.remarks).toEqual(['One row was not found.']);
    const mark = Buffer.from(`1 install.xlsx ${sampleText}`);
    expect(Buffer.from(await caller.arrived(marked))).toEqual(
      Buffer.concat([secondSource.bytes, mark]),
    );

    // Only the workbook it goes into is needed.
    const lost = { ...question, sourceFileIds: [first.fileId, 'long-forgotten'] };
    theValue(await caller.ask('workbook.export', { ...lost, into: 0 }));
    expect(await caller.ask('workbook.export', { ...lost, into: 1 })).toMatchObject({
      reason: { code: 'source-gone', what: expect.not.stringMatching(/saved/) },
    });

    const named = sampleText.replace('"name":"Larkspur Footbridge"', '"name":"refuse"');
    expect(
      await caller.ask('workbook.export', { ...question, projectText: named, into: 0 }),
    ).toEqual({
      ok: false,
      reason: { code: 'cannot-mark-up', what: 'No.', where: 'larkspur.xlsx', todo: 'Else.' },
    });
    expect(await caller.ask('workbook.export', { ...question, into: 7 })).toMatchObject({
      reason: { code: 'source-gone' },
    });
  });

  test('recovery: kept, offered, replaced, opened with its source, dropped', async () => {
    const { fileId } = await caller.upload('larkspur.xlsx', sampleSource.bytes);
    const question = {
      recoveryId: null,
      projectText: sampleText,
      sourceFileIds: [fileId],
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
      sources: [{ name: 'larkspur.xlsx' }],
      writable: false,
    });
    expect(await caller.ask('recovery.drop', { recoveryId })).toEqual({ ok: true, value: {} });
    expect(theValue(await caller.ask('app.start', {})).recoveries).toEqual([]);
  });

  test('memory.keep: kept, replaced, forgotten, and there at the next start', async () => {
    const memory = async () => theValue(await caller.ask('app.start', {})).memory;
    const keep = (key: string, text: string | null) => caller.ask('memory.keep', { key, text });
    expect(await keep('window.theme', 'dark')).toEqual({ ok: true, value: {} });
    await keep('import.a1', '{"Mark":"tag"}');
    await keep('window.theme', 'light');
    expect(await memory()).toEqual({ 'window.theme': 'light', 'import.a1': '{"Mark":"tag"}' });
    await keep('import.a1', null);
    await keep('never.kept', null);
    expect(await memory()).toEqual({ 'window.theme': 'light' });
    await keep('window.theme', null);
    expect(await memory()).toEqual({});
  });

  test('a damaged memory is told of, set aside, and begins anew', async () => {
    const path = join(way.state, 'memory.json');
    writeFileSync(path, '{"format":"runledger-memory","version":1,"texts":{"a":');
    const start = theValue(await caller.ask('app.start', {}));
    expect(start.memory).toEqual({});
    expect(start.remarks).toMatchObject([
      { code: 'damaged', what: expect.stringMatching(/choices.*damaged.*set aside/), where: path },
    ]);
    expect(readFileSync(`${path}.damaged`, 'utf8')).toMatch(/"texts"/);
    expect(await caller.ask('memory.keep', { key: 'a', text: 'b' })).toMatchObject({ ok: true });
  });

  test('file.recent: what was opened from the disk, as far as it is there', async () => {
    // The shell has saved files by its dialog above; the loopback host knows none by path.
    const before = theValue(await caller.ask('file.recent', {}));
    expect(before.length > 0).toBe(way.host === 'desktop');
    const path = join(way.state, 'larkspur.runledger');
    const gone = join(way.state, 'gone.csv');
    writeFileSync(path, sampleFile());
    const paths = [gone, path];
    const list = { format: 'runledger-recent', version: 1, paths };
    writeFileSync(join(way.state, 'recent.json'), JSON.stringify(list));
    const [recent, ...more] = theValue(await caller.ask('file.recent', {}));
    expect([recent?.name, more]).toEqual(['larkspur.runledger', []]);
    const opened = await caller.ask('file.open', { fileId: recent?.fileId ?? '' });
    expect(theValue(opened)).toMatchObject({ kind: 'project', writable: true });
    const kept = JSON.parse(readFileSync(join(way.state, 'recent.json'), 'utf8'));
    expect(kept.paths).toEqual([path]);
    // Saved where it lies, by the id of what was opened alone.
    const target = theValue(opened).file.fileId;
    const answer = await caller.ask('project.save', { ...saveQuestion, target });
    expect(answer).toEqual({ ok: true, value: { saved: 'in-place' } });
    expect(new Uint8Array(readFileSync(path))).toEqual(sampleFile([]));
  });

  test('app.told and app.leave are answered; choosing and printing where there is a frame', async () => {
    const told = { title: 'Larkspur', unsaved: true, commands: ['save' as const] };
    expect(await caller.ask('app.told', told)).toEqual({ ok: true, value: {} });
    expect(await caller.ask('app.leave', { answer: 'stay' })).toEqual({ ok: true, value: {} });
    dialogAnswers.open.push({ canceled: true, filePaths: [] });
    const chosen = await caller.ask('file.choose', { what: 'any' });
    if (way.host === 'desktop') expect(chosen).toEqual({ ok: true, value: null });
    else expect(chosen).toMatchObject({ ok: false, reason: { code: 'no-dialog' } });
    if (way.host === 'desktop') return;
    expect(await caller.ask('app.print', {})).toMatchObject({ reason: { code: 'no-print' } });
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
  const names = ['direct', 'loopback', 'desktop'] as const;

  test('a session of every request gives the same answers and bytes; ids, times and the way out apart', async () => {
    const transcripts: string[] = [];
    for (const name of names) {
      const { caller, close } = await ways[name]();
      const said: unknown[] = [];
      const note = <T>(answer: T): T => {
        said.push(answer);
        return answer;
      };
      const noteBytes = async (answer: Answer<'project.save'> | Answer<'workbook.export'>) => {
        const left = theValue<{ saved: string }>(answer) as Left;
        said.push(Buffer.from(await caller.arrived(left)).toString('base64'));
      };
      const { host: _host, ...start } = theValue(await caller.ask('app.start', {}));
      note(start);
      const demoFile = theValue(note(await caller.ask('file.demo', {})));
      note(await caller.ask('file.open', { fileId: demoFile.fileId }));
      const file = note(await caller.upload('larkspur.runledger', sampleFile()));
      const opened = theValue(note(await caller.ask('file.open', { fileId: file.fileId })));
      const sources = opened.kind === 'project' ? opened.sources : [];
      const sourceFileIds = sources.map(({ fileId }) => fileId);
      note(await caller.ask('file.open', { fileId: 'never-given-out' }));
      await noteBytes(await caller.ask('project.save', { ...saveQuestion, sourceFileIds }));
      for (const into of [null, 0]) {
        const question = { projectText: sampleText, sourceFileIds, into, suggestedName: '' };
        await noteBytes(await caller.ask('workbook.export', question));
      }
      const kept = note(
        await caller.ask('recovery.keep', {
          recoveryId: null,
          projectText: sampleText,
          sourceFileIds,
          name: 'x',
        }),
      );
      note(await caller.ask('memory.keep', { key: 'window.theme', text: 'dark' }));
      const { recoveries, memory } = theValue(await caller.ask('app.start', {}));
      note({ recoveries, memory });
      note(await caller.ask('recovery.drop', theValue(kept)));
      note(await caller.ask('file.release', { fileId: file.fileId }));
      note(await caller.ask('app.told', { title: 'x', unsaved: false, commands: [] }));
      note(await caller.ask('app.leave', { answer: 'stay' }));
      note(await caller.askRaw('file.open', { fileId: 7 }));
      await close();
      transcripts.push(
        JSON.stringify(said)
          .replace(/"(fileId|outputId|recoveryId)":"[^"]+"/g, '"$1":"id"')
          .replace(/"keptAt":"[^"]+"/g, '"keptAt":"time"'),
      );
    }
    expect(transcripts[0]?.length).toBeGreaterThan(10_000);
    expect(transcripts[1]).toBe(transcripts[0]);
    expect(transcripts[2]).toBe(transcripts[0]);
  });
});
