/**
 * What a hostile page, or another program on the machine, may try against the loopback host: after
 * every try nothing was changed and nothing was read. The rules: OWASP Cross-Site Request Forgery
 * Prevention Cheat Sheet (Origin check, custom header, SameSite), WSTG-INPV-17 (Host header).
 */
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ENTRY_MS } from '../../src-main/loopback/entry-tokens.ts';
import type { LoopbackHost } from '../../src-main/loopback/server.ts';
import { requestSchemas } from '../../src-shared/contract/requests.ts';
import { sampleText } from '../projects/sample-file.ts';
import { type Bench, enter, makeBench, type Session, startHost, windowHeaders } from './hosts.ts';
import { type Got, type Sent, send } from './http-client.ts';

let now = 0;
let bench: Bench;
let host: LoopbackHost;
let session: Session;
let fileId = '';
let outputId = '';
/** Each request that got as far as a handler. */
const reached: string[] = [];

const SECRET_CONTENT = 'A-01;the-secret-content';

beforeAll(async () => {
  bench = makeBench();
  for (const [name, handler] of Object.entries(bench.handlers)) {
    Object.assign(bench.handlers, {
      [name]: (question: never) => {
        reached.push(name);
        return handler(question);
      },
    });
  }
  host = await startHost(bench, () => now);
  session = await enter(host);
  const held = bench.store.put('a.csv', Buffer.from(SECRET_CONTENT));
  fileId = held.ok ? held.file.fileId : '';
  outputId = bench.store.putOutput('a.csv', Buffer.from(SECRET_CONTENT)).outputId;
});
afterAll(async () => {
  await host.close();
  bench.remove();
});

const openBody = () => JSON.stringify({ fileId });
/** The window's own request, which must work, with something about it changed. */
const asWindow = (
  change: Partial<Sent> & { without?: string; set?: Record<string, string | string[]> },
) => {
  const { without = '', set = {}, ...sent } = change;
  const headers: Record<string, string | string[]> = { ...windowHeaders(session), ...set };
  delete headers[without];
  return send(host.port, {
    method: 'POST',
    path: '/api/file.open',
    headers,
    body: openBody(),
    ...sent,
  });
};

function expectGuarded(got: Got): void {
  const { headers } = got;
  expect(headers['x-content-type-options']).toBe('nosniff');
  expect(headers['cache-control']).toBe('no-store');
  expect(headers['referrer-policy']).toBe('no-referrer');
  expect(headers['content-security-policy']).toMatch(/default-src '(none|self)'/);
  expect(headers['content-security-policy']).toMatch(/frame-ancestors 'none'/);
  expect(headers['content-security-policy']).not.toMatch(/unsafe-|\*/);
  for (const name of Object.keys(headers)) expect(name).not.toMatch(/^access-control-/);
}

/** Turned away with this status, no handler reached, nothing told. */
async function expectTurnedAway(got: Promise<Got>, status: number): Promise<Got> {
  const before = reached.length;
  const answer = await got;
  expect(answer.status).toBe(status);
  expect(reached.length).toBe(before);
  const text = answer.body.toString();
  for (const told of ['the-secret-content', session.secret, session.cookie.split('=')[1] ?? '']) {
    expect(text).not.toContain(told);
  }
  expect(answer.headers['set-cookie']).toBeUndefined();
  expectGuarded(answer);
  return answer;
}

test("the window's own request works: what is refused below is refused for its one change", async () => {
  const got = await asWindow({});
  expect(got.status).toBe(200);
  expect(got.body.toString()).toContain('the-secret-content');
  expectGuarded(got);
});

describe('another name for the host, before anything else is looked at', () => {
  test.each([
    'evil.example',
    'localhost',
    '127.0.0.1',
    '127.0.0.1.evil.example',
    '[::1]',
    '0.0.0.0',
  ])('Host %j', async (name) => {
    for (const withPort of [name, `${name}:${host.port}`]) {
      if (withPort === `127.0.0.1:${host.port}`) continue;
      await expectTurnedAway(asWindow({ set: { host: withPort } }), 403);
      for (const path of ['/', '/enter?key=x', '/nothing', '/assets/window.js']) {
        const headers = { host: withPort, cookie: session.cookie };
        await expectTurnedAway(send(host.port, { path, headers }), 403);
      }
    }
  });
  test('a right token under a wrong name opens nothing and is not used up', async () => {
    const { pathname, search } = new URL(host.mintAddress());
    const path = pathname + search;
    await expectTurnedAway(send(host.port, { path, headers: { host: 'evil.example' } }), 403);
    expect((await send(host.port, { path })).status).toBe(303);
  });
});

describe('a request of another page', () => {
  test.each([
    'null',
    'https://evil.example',
    'http://localhost',
    'http://127.0.0.1',
    'http://127.0.0.1:1',
    '',
  ])('Origin %j', async (origin) => {
    await expectTurnedAway(asWindow({ set: { origin } }), 403);
    const headers = { origin, cookie: session.cookie };
    await expectTurnedAway(send(host.port, { path: '/', headers }), 403);
    await expectTurnedAway(send(host.port, { path: `/output/${outputId}`, headers }), 403);
  });
  test('no Origin at all', async () => {
    await expectTurnedAway(asWindow({ without: 'origin' }), 403);
  });
  test('another scheme or a longer name', async () => {
    for (const origin of [`https://127.0.0.1:${host.port}`, `${session.origin}.evil.example`]) {
      await expectTurnedAway(asWindow({ set: { origin } }), 403);
    }
  });
  test.each(['cross-site', 'same-site'])('Sec-Fetch-Site: %s', async (site) => {
    await expectTurnedAway(asWindow({ set: { 'sec-fetch-site': site } }), 403);
    const headers = { cookie: session.cookie, 'sec-fetch-site': site };
    for (const path of ['/', '/assets/window.js', `/output/${outputId}`]) {
      await expectTurnedAway(send(host.port, { path, headers }), 403);
    }
  });
  test('a question beforehand (CORS preflight) is not answered with leave', async () => {
    const headers = { origin: 'https://evil.example', 'access-control-request-method': 'POST' };
    await expectTurnedAway(
      send(host.port, { method: 'OPTIONS', path: '/api/file.open', headers }),
      403,
    );
    const own = { origin: session.origin, cookie: session.cookie };
    await expectTurnedAway(
      send(host.port, { method: 'OPTIONS', path: '/api/file.open', headers: own }),
      405,
    );
  });
});

describe('without the keys', () => {
  test('no cookie, a wrong one, one of another name', async () => {
    await expectTurnedAway(asWindow({ without: 'cookie' }), 403);
    const name = session.cookie.split('=')[0] ?? '';
    for (const cookie of [
      `${name}=x`,
      `${name}=`,
      name,
      `x${session.cookie}`,
      `other=${session.cookie}x`,
    ]) {
      await expectTurnedAway(asWindow({ set: { cookie } }), 403);
      await expectTurnedAway(send(host.port, { path: '/', headers: { cookie } }), 403);
    }
  });
  test('no secret, a wrong one, the cookie in its place, two of them', async () => {
    await expectTurnedAway(asWindow({ without: 'x-runledger-secret' }), 403);
    const wrong = ['', 'x', session.cookie.split('=')[1] ?? '', [session.secret, session.secret]];
    for (const given of wrong) {
      await expectTurnedAway(asWindow({ set: { 'x-runledger-secret': given } }), 403);
    }
  });
  test('the page, its files and outputs are shown to nobody outside', async () => {
    for (const path of ['/', '/assets/window.js', `/output/${outputId}`, '/nothing']) {
      const got = await expectTurnedAway(send(host.port, { path }), 403);
      expect(got.body.toString()).toMatch(/start it again to get a new one/);
    }
  });
  test('every request and the upload are shut', async () => {
    for (const name of Object.keys(requestSchemas)) {
      await expectTurnedAway(asWindow({ path: `/api/${name}`, without: 'cookie' }), 403);
      await expectTurnedAway(
        asWindow({ path: `/api/${name}`, without: 'x-runledger-secret' }),
        403,
      );
    }
    await expectTurnedAway(asWindow({ path: '/upload', without: 'cookie' }), 403);
  });
});

describe('bodies a form or a plain request can send', () => {
  test.each([
    'text/plain',
    'application/x-www-form-urlencoded',
    'multipart/form-data; boundary=x',
    '',
    'text/json',
  ])('Content-Type %j: 415', async (media) => {
    await expectTurnedAway(asWindow({ set: { 'content-type': media } }), 415);
    await expectTurnedAway(asWindow({ path: '/upload', set: { 'content-type': media } }), 415);
  });
  test('none at all, the one of the other address, packed', async () => {
    await expectTurnedAway(asWindow({ without: 'content-type' }), 415);
    await expectTurnedAway(asWindow({ path: '/upload' }), 415);
    await expectTurnedAway(asWindow({ set: { 'content-encoding': 'gzip' } }), 415);
  });
  test('what is no JSON is a reason', async () => {
    for (const body of ['', '{', 'x', '\u0000']) {
      const got = await asWindow({ body });
      expect(got.status).toBe(400);
      expect(JSON.parse(got.body.toString())).toMatchObject({
        ok: false,
        reason: { code: 'bad-request' },
      });
    }
  });
  test('an upload without a name, or with one that cannot be decoded', async () => {
    const set = { 'content-type': 'application/octet-stream' };
    expect((await asWindow({ path: '/upload', set })).status).toBe(400);
    for (const name of ['', '%', '%E0%A4%A', 'a/', encodeURIComponent('x'.repeat(256))]) {
      const got = await asWindow({ path: '/upload', set: { ...set, 'x-runledger-name': name } });
      expect(got.status).toBe(400);
    }
  });
  test('a name with folders keeps only its end', async () => {
    const set = {
      'content-type': 'application/octet-stream',
      'x-runledger-name': '..%2F..%2Fetc%5Cpasswd',
    };
    const got = await asWindow({ path: '/upload', set });
    expect(JSON.parse(got.body.toString())).toMatchObject({ ok: true, value: { name: 'passwd' } });
  });
});

describe('too much', () => {
  test('an upload over 60 MB: 413, with a reason, and nothing of it is held', async () => {
    const set = { 'content-type': 'application/octet-stream', 'x-runledger-name': 'big.xlsx' };
    const got = await asWindow({ path: '/upload', set, body: new Uint8Array(60_000_001) });
    expect(got.status).toBe(413);
    expect(JSON.parse(got.body.toString())).toMatchObject({
      ok: false,
      reason: { code: 'too-large' },
    });
    const fits = await asWindow({ path: '/upload', set, body: new Uint8Array(60_000_000) });
    const held = JSON.parse(fits.body.toString());
    expect(held.ok).toBe(true);
    bench.store.release(held.value.fileId);
    // A project holds several workbooks.
    const project = { ...set, 'x-runledger-name': 'big.runledger' };
    const large = await asWindow({
      path: '/upload',
      set: project,
      body: new Uint8Array(60_000_001),
    });
    bench.store.release(JSON.parse(large.body.toString()).value.fileId);
  });
  test('a question over 250 MB: 413', async () => {
    const got = await asWindow({ body: Buffer.alloc(250_000_001, 0x20) });
    expect(got.status).toBe(413);
  });
  test('headers over 16 kB: 431', async () => {
    const got = await asWindow({ set: { 'x-much': 'x'.repeat(20_000) } });
    expect(got.status).toBe(431);
    expectGuarded(got);
  });
});

describe('addresses', () => {
  test.each([
    '/../../../etc/passwd',
    '/assets/../../../../etc/passwd',
    '/assets/..%2f..%2f..%2fetc%2fpasswd',
    '/assets/%2e%2e/%2e%2e/package.json',
    '/assets\\..\\..\\package.json',
    '//etc/passwd',
    '/assets/window.js/',
    '/assets/window.js?x',
    '/assets/WINDOW.js',
    '/assets/window.js%00.css',
    '/index.html',
    '/__proto__',
    '/constructor',
    '/output/../assets/window.js',
    '/output/__proto__',
    '/output/',
    '/api/file.open/../app.start',
    '/api/__proto__',
    'http://evil.example/',
  ])('%s is nothing', async (path) => {
    await expectTurnedAway(send(host.port, { path, headers: { cookie: session.cookie } }), 404);
  });
  test.each([
    '/api/',
    '/api/toString',
    '/api/file.open?x=1',
    '/api/FILE.OPEN',
    '/',
    '/enter',
    '/output/x',
  ])('POST %s does nothing', async (path) => {
    await expectTurnedAway(asWindow({ path }), 405);
  });
  test.each(['GET', 'PUT', 'DELETE', 'PATCH', 'HEAD'])(
    '%s on a request does nothing',
    async (method) => {
      await expectTurnedAway(asWindow({ method, body: '' }), 405);
    },
  );
  test('an output leaves as an attachment under a safe header', async () => {
    const id = bench.store.putOutput('Brücke "7";\u00e9.xlsx', Buffer.from('x')).outputId;
    const got = await send(host.port, {
      path: `/output/${id}`,
      headers: { cookie: session.cookie },
    });
    // RFC 6266 with RFC 8187: quotes replaced in the plain name, UTF-8 in the other.
    expect(got.headers['content-disposition']).toBe(
      `attachment; filename="Br_cke _7_;_.xlsx"; filename*=UTF-8''Br%C3%BCcke%20%227%22%3B%C3%A9.xlsx`,
    );
    expect(got.headers['content-type']).toBe('application/octet-stream');
    expectGuarded(got);
  });
});

describe('the entry token', () => {
  const pathOf = (address: string) => address.slice(address.indexOf('/', 8));
  test('opens once: a clean address and a cookie no script and no other site can use', async () => {
    const path = pathOf(host.mintAddress());
    const got = await send(host.port, { path });
    expect(got.status).toBe(303);
    expect(got.headers.location).toBe('/');
    const name = `runledger-${host.port}`;
    expect(String(got.headers['set-cookie'])).toMatch(
      new RegExp(`^${name}=[A-Za-z0-9_-]{43}; HttpOnly; SameSite=Strict; Path=/$`),
    );
    expectGuarded(got);
    const again = await expectTurnedAway(send(host.port, { path }), 403);
    expect(again.body.toString()).toMatch(/has been used or is too old/);
  });
  test('ends after a minute', async () => {
    const inTime = pathOf(host.mintAddress());
    now += ENTRY_MS - 1;
    expect((await send(host.port, { path: inTime })).status).toBe(303);
    const late = pathOf(host.mintAddress());
    now += ENTRY_MS;
    await expectTurnedAway(send(host.port, { path: late }), 403);
    expect(ENTRY_MS).toBe(60_000);
  });
  test('a newer one ends the one before', async () => {
    const older = pathOf(host.mintAddress());
    const newer = pathOf(host.mintAddress());
    await expectTurnedAway(send(host.port, { path: older }), 403);
    expect((await send(host.port, { path: newer })).status).toBe(303);
  });
  test('a wrong, empty or missing one opens nothing and does not use up the right one', async () => {
    const path = pathOf(host.mintAddress());
    for (const wrong of ['/enter', '/enter?key=', '/enter?key=x', `${path}x`, path.slice(0, -1)]) {
      await expectTurnedAway(send(host.port, { path: wrong }), 403);
    }
    await expectTurnedAway(send(host.port, { path, method: 'HEAD' }), 405);
    expect((await send(host.port, { path })).status).toBe(303);
  });
  test('someone inside who loads the used address again is let in', async () => {
    const path = pathOf(host.mintAddress());
    await send(host.port, { path });
    const got = await send(host.port, { path, headers: { cookie: session.cookie } });
    expect(got.status).toBe(303);
  });
  test('two hosts at once do not take each other\u2019s keys', async () => {
    const other = await startHost(bench);
    const theirs = await enter(other);
    await expectTurnedAway(asWindow({ set: { cookie: theirs.cookie } }), 403);
    await expectTurnedAway(asWindow({ set: { 'x-runledger-secret': theirs.secret } }), 403);
    await other.close();
  });
});

test('the page carries a fresh nonce each time, and the policy of the brief', async () => {
  const nonces = new Set<string>();
  for (let load = 0; load < 3; load += 1) {
    const got = await send(host.port, { path: '/', headers: { cookie: session.cookie } });
    const policy = String(got.headers['content-security-policy']);
    const nonce = /'nonce-([^']+)'/.exec(policy)?.[1] ?? '';
    expect(got.body.toString()).toContain(`<style nonce="${nonce}">`);
    expect(got.body.toString()).not.toMatch(/%[A-Z_]+%/);
    for (const rule of [
      "script-src 'self';",
      "connect-src 'self';",
      "form-action 'none'",
      "base-uri 'none'",
    ]) {
      expect(policy).toContain(rule);
    }
    nonces.add(nonce);
    expectGuarded(got);
  }
  expect(nonces.size).toBe(3);
});

describe('below HTTP', () => {
  const raw = (text: string) =>
    new Promise<string>((resolve, reject) => {
      const socket = connect(host.port, '127.0.0.1', () => socket.write(text));
      let said = '';
      socket.on('data', (chunk) => {
        said += chunk.toString();
      });
      socket.once('close', () => resolve(said));
      socket.once('error', reject);
    });
  test.each([
    ['rubbish', 'rubbish\r\n\r\n', 400],
    ['an empty Host', 'GET / HTTP/1.1\r\nHost:\r\nConnection: close\r\n\r\n', 403],
    ['no Host', 'GET / HTTP/1.1\r\n\r\n', 400],
    [
      'two Hosts',
      `GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nHost: evil\r\nConnection: close\r\n\r\n`,
      403,
    ],
    ['a tunnel', 'CONNECT evil.example:443 HTTP/1.1\r\nHost: evil.example:443\r\n\r\n', 405],
    [
      'another protocol',
      'GET / HTTP/1.1\r\nHost: x\r\nConnection: upgrade\r\nUpgrade: websocket\r\n\r\n',
      400,
    ],
  ])('%s is answered and the connection ends', async (_name, text, status) => {
    const said = await raw(text);
    expect(said).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
    expect(said).not.toMatch(/access-control/i);
  });
  test('nothing listens on any other address of the machine', async () => {
    const others = Object.values(networkInterfaces()).flatMap((list) =>
      (list ?? []).filter(({ internal, family }) => !internal && family === 'IPv4'),
    );
    for (const { address } of [...others, { address: '127.0.0.2' }]) {
      const answer = await new Promise((resolve) => {
        const socket = connect({ host: address, port: host.port, timeout: 1_000 });
        const end = (what: string) => {
          socket.destroy();
          resolve(what);
        };
        socket.once('connect', () => end('open'));
        socket.once('timeout', () => end('shut'));
        socket.once('error', () => end('shut'));
      });
      expect([address, answer]).toEqual([address, 'shut']);
    }
  });
});

test('after all this the work of the session stands as it stood', async () => {
  const got = await asWindow({});
  expect(got.body.toString()).toContain('the-secret-content');
  const saved = await asWindow({
    path: '/api/project.save',
    body: JSON.stringify({
      projectText: sampleText,
      sourceFileIds: [],
      target: null,
      overwrite: false,
      suggestedName: 'x',
    }),
  });
  expect(JSON.parse(saved.body.toString())).toMatchObject({ ok: true });
});
