import {
  chmodSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { keepBackup } from '../../src-main/projects/backup-file.ts';
import { saveFile } from '../../src-main/projects/save-file.ts';
import { nodeSaveFs } from '../../src-main/projects/save-fs.ts';
import { temporaryName } from '../../src-main/projects/temporary-file.ts';
import { faultyFs, SystemFault } from './faulty-fs.ts';

const top = mkdtempSync(join(tmpdir(), 'runledger-save-'));
afterAll(() => rmSync(top, { recursive: true, force: true }));

let folder = '';
let path = '';
beforeEach(() => {
  folder = realpathSync(mkdtempSync(join(top, 'case-')));
  path = join(folder, 'job.runledger');
});

const bytes = (text: string) => new Uint8Array(Buffer.from(text));
const held = () => readFileSync(path, 'utf8');
const posix = process.platform !== 'win32';

test('the calls come in the order that survives a loss of power', async () => {
  writeFileSync(path, 'before');
  const { fs, calls } = faultyFs(() => undefined);
  expect(await saveFile(path, bytes('after'), { fs })).toEqual({ ok: true });
  const order = ['create', 'setMode', 'write', 'size', 'sync', 'close', 'rename', 'syncFolder'];
  expect(calls).toEqual(['resolve', 'look', 'mayWrite', 'list', ...order]);
  expect(held()).toBe('after');
  expect(readdirSync(folder)).toEqual(['job.runledger']);
});

test('a self-check that fails leaves everything untouched', async () => {
  writeFileSync(path, 'before');
  const { fs, calls } = faultyFs(() => undefined);
  const reason = { code: 'self-check', what: 'x', where: 'y', todo: 'z' };
  expect(await saveFile(path, bytes('after'), { fs, selfCheck: () => reason })).toEqual({
    ok: false,
    reason,
  });
  expect(calls).toEqual([]);
  expect(held()).toBe('before');
});

describe('a fault at the n-th call', () => {
  const codes = ['ENOSPC', 'EIO', 'EACCES', 'EDQUOT', 'EROFS', 'ENOENT', 'ODD'];
  const count = 12;
  test.each(codes)(
    '%s: never a false "saved", never a torn file, nothing left behind',
    async (code) => {
      for (let nth = 1; nth <= count; nth += 1) {
        writeFileSync(path, 'before');
        let failed = '';
        const { fs } = faultyFs((call, n) => {
          if (n !== nth) return;
          failed = call;
          throw new SystemFault(code);
        });
        const saved = await saveFile(path, bytes('after'), { fs });
        expect(failed).not.toBe('');
        // Sweeping is best effort: its fault alone does not spoil the save.
        expect(saved.ok).toBe(failed === 'list');
        if (saved.ok) expect(held()).toBe('after');
        // After the rename the new bytes stand there whole, though not said to be saved.
        else expect(held()).toBe(failed === 'syncFolder' ? 'after' : 'before');
        if (!saved.ok) {
          expect(saved.reason.what).toMatch(/^Not saved\. /);
          expect(saved.reason.where).toBe(path);
          expect(saved.reason.todo).not.toBe('');
        }
        expect(readdirSync(folder)).toEqual(['job.runledger']);
      }
    },
  );
  test('there are no more calls than were tried', async () => {
    writeFileSync(path, 'before');
    const { fs, calls } = faultyFs(() => undefined);
    await saveFile(path, bytes('after'), { fs });
    expect(calls).toHaveLength(count);
  });
  test('from the n-th call on, all fail: still no false "saved"', async () => {
    for (let nth = 1; nth <= count; nth += 1) {
      writeFileSync(path, 'before');
      const { fs } = faultyFs((call, n) => {
        if (n >= nth && call !== 'list') throw new SystemFault('EIO');
      });
      const saved = await saveFile(path, bytes('after'), { fs });
      expect(saved.ok).toBe(false);
      expect(['before', 'after']).toContain(held());
    }
  });
});

describe('a disk that takes less than it is given', () => {
  const limited = (capacity: number) => {
    let left = capacity;
    return {
      ...nodeSaveFs,
      create: async (at: string, mode: number) => {
        const handle = await nodeSaveFs.create(at, mode);
        return {
          ...handle,
          write: async (part: Uint8Array) => {
            if (left === 0) throw new SystemFault('ENOSPC');
            const taken = Math.min(left, part.length, 7);
            left -= taken;
            return handle.write(part.subarray(0, taken));
          },
        };
      },
    };
  };
  test('full at every size: not saved, and the file before stays', async () => {
    const text = 'twenty-six bytes of project';
    for (let capacity = 0; capacity <= text.length; capacity += 1) {
      writeFileSync(path, 'before');
      const saved = await saveFile(path, bytes(text), { fs: limited(capacity) });
      const fits = capacity === text.length;
      expect(saved.ok).toBe(fits);
      if (!saved.ok) expect(saved.reason.code).toBe('disk-full');
      expect(held()).toBe(fits ? text : 'before');
      expect(readdirSync(folder)).toEqual(['job.runledger']);
    }
  });
  test('a write that takes nothing, or a size that is false, is not a save', async () => {
    for (const twist of [{ write: async () => 0 }, { size: async () => 3 }]) {
      writeFileSync(path, 'before');
      const fs = {
        ...nodeSaveFs,
        create: async (at: string, mode: number) => ({
          ...(await nodeSaveFs.create(at, mode)),
          ...twist,
        }),
      };
      expect((await saveFile(path, bytes('after'), { fs })).ok).toBe(false);
      expect(held()).toBe('before');
    }
  });
});

test('a file system that cannot flush a folder has saved all the same', async () => {
  for (const code of ['EINVAL', 'ENOTSUP']) {
    const { fs } = faultyFs((call) => {
      if (call === 'syncFolder') throw new SystemFault(code);
    });
    expect(await saveFile(path, bytes(code), { fs })).toEqual({ ok: true });
    expect(held()).toBe(code);
  }
});

test('on Windows a rename that is held up is tried again, elsewhere it is not', async () => {
  const platform = vi.spyOn(process, 'platform', 'get');
  try {
    for (const [name, tries, ok] of [
      ['win32', 3, true],
      ['win32', 99, false],
      ['linux', 1, false],
    ] as const) {
      platform.mockReturnValue(name);
      writeFileSync(path, 'before');
      let left = tries;
      const { fs, calls } = faultyFs((call) => {
        if (call === 'rename' && left-- > 0) throw new SystemFault('EBUSY');
      });
      expect((await saveFile(path, bytes('after'), { fs })).ok).toBe(ok);
      expect(held()).toBe(ok ? 'after' : 'before');
      expect(calls.filter((call) => call === 'rename').length).toBe(
        name === 'linux' ? 1 : Math.min(tries + 1, 8),
      );
    }
  } finally {
    platform.mockRestore();
  }
});

describe.skipIf(!posix)('needs a POSIX system: permissions and links', () => {
  test('a file keeps its permissions, a new one gets those asked for', async () => {
    writeFileSync(path, 'before');
    chmodSync(path, 0o664);
    await saveFile(path, bytes('after'));
    expect(statSync(path).mode & 0o777).toBe(0o664);
    const secret = join(folder, 'copy.runledger');
    await saveFile(secret, bytes('x'), { mode: 0o600 });
    expect(statSync(secret).mode & 0o777).toBe(0o600);
  });
  test('a link stays a link, the file behind it is replaced', async () => {
    writeFileSync(path, 'before');
    const link = join(folder, 'link.runledger');
    symlinkSync(path, link);
    expect(await saveFile(link, bytes('after'))).toEqual({ ok: true });
    expect(held()).toBe('after');
    expect(realpathSync(link)).toBe(path);
  });
});

describe('temporaries left behind by a killed program', () => {
  // A number no process of a usual system has.
  const gone = (name: string, pid = 4_194_305) =>
    temporaryName(name).replace(`-${process.pid}-`, `-${pid}-`);
  test('are swept by the next save of the same file, others are left alone', async () => {
    const stale = gone('job.runledger');
    const others = [
      gone('other.runledger'),
      temporaryName('job.runledger'),
      gone('job.runledger', process.ppid),
      stale.replace(/~[0-9a-f]{8}/, '~00000000'),
      '.job.runledger~mine',
      'job.runledger.bak',
    ];
    for (const name of [stale, ...others]) writeFileSync(join(folder, name), 'part');
    expect(await saveFile(path, bytes('after'))).toEqual({ ok: true });
    expect(readdirSync(folder).sort()).toEqual([...others, 'job.runledger'].sort());
  });
  test('a name as long as a file system takes can be saved', async () => {
    const long = join(folder, `${'ü'.repeat(120)}.runledger`);
    expect(await saveFile(long, bytes('after'))).toEqual({ ok: true });
    expect(readFileSync(long, 'utf8')).toBe('after');
  });
});

test('a backup never overwrites another, and the same bytes need only one', async () => {
  expect(await keepBackup(path, bytes('one'))).toMatchObject({ backup: `${path}.bak` });
  expect(await keepBackup(path, bytes('one'))).toMatchObject({ backup: `${path}.bak` });
  expect(await keepBackup(path, bytes('two'))).toMatchObject({
    backup: `${path}.2.bak`,
    outcome: { ok: true },
  });
  expect(readFileSync(`${path}.bak`, 'utf8')).toBe('one');
  expect(readFileSync(`${path}.2.bak`, 'utf8')).toBe('two');
});
