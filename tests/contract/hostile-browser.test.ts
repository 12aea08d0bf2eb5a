/**
 * A hostile page in the very browser that holds the session: nothing it tries reaches a handler or
 * tells it anything. It is served once from another port of 127.0.0.1, which the browser counts as
 * the same site, and once from `localhost`, which is another site.
 */
import { existsSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type Browser, type BrowserContext, chromium } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { LoopbackHost } from '../../src-main/loopback/server.ts';
import { findProgram } from '../house/need.ts';
import { type Bench, makeBench, startHost } from './hosts.ts';

const system = ['chromium', 'chromium-browser', 'google-chrome'].map(findProgram).find(Boolean);
const own = existsSync(chromium.executablePath()) ? chromium.executablePath() : null;
const program = system ?? own;

/** Runs in the hostile page: every way it has to send something, and what it could read of it. */
async function attack([target, outputId]: readonly string[]): Promise<string[]> {
  const read: string[] = [];
  const body = JSON.stringify({});
  const tries: readonly [string, RequestInit][] = [
    ['/', {}],
    [`/output/${outputId}`, {}],
    ['/assets/window.js', {}],
    ['/api/app.start', { method: 'POST', body }],
    ['/api/app.start', { method: 'POST', body, headers: { 'content-type': 'application/json' } }],
    ['/api/file.demo', { method: 'POST', body, headers: { 'x-runledger-secret': 'guess' } }],
    ['/upload', { method: 'POST', body: new FormData() }],
    ['/upload', { method: 'POST', body: new Blob(['x']) }],
  ];
  for (const [path, init] of tries) {
    for (const mode of ['no-cors', 'cors'] as const) {
      try {
        const got = await fetch(`${target}${path}`, { ...init, mode, credentials: 'include' });
        const text = await got.text();
        if (text !== '') read.push(`${mode} ${path}: ${text.slice(0, 80)}`);
      } catch {
        // The browser keeps the answer from the page: as it should be.
      }
    }
  }
  navigator.sendBeacon(`${target}/api/file.demo`, body);
  const socket = new WebSocket(`${target?.replace('http', 'ws')}/`);
  await new Promise<void>((resolve) => {
    socket.onopen = () => {
      read.push('a socket opened');
      resolve();
    };
    socket.onerror = () => resolve();
  });
  const loaded = (element: HTMLElement) =>
    new Promise<boolean>((resolve) => {
      element.onload = () => resolve(true);
      element.onerror = () => resolve(false);
      document.body.append(element);
    });
  const script = document.createElement('script');
  script.src = `${target}/assets/window.js`;
  if (await loaded(script)) read.push('a script ran');
  const form = document.createElement('form');
  Object.assign(form, { action: `${target}/api/file.demo`, method: 'post', enctype: 'text/plain' });
  const frame = Object.assign(document.createElement('iframe'), { name: 'sink' });
  form.target = 'sink';
  document.body.append(frame, form);
  form.submit();
  const page = document.createElement('iframe');
  page.src = `${target}/`;
  await loaded(page);
  try {
    const inner = page.contentDocument?.documentElement.outerHTML ?? '';
    if (inner.includes('runledger-secret')) read.push('the page was read in a frame');
  } catch {
    // Not ours to look into: as it should be.
  }
  await new Promise((resolve) => setTimeout(resolve, 300));
  return read;
}

describe.skipIf(!program)('needs Chromium: a hostile page in the same browser', () => {
  const reached: string[] = [];
  let bench: Bench;
  let host: LoopbackHost;
  let hostile: Server;
  let browser: Browser;
  let context: BrowserContext;
  let address = '';

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
    host = await startHost(bench);
    hostile = createServer((_request, response) => {
      response.writeHead(200, { 'content-type': 'text/html' });
      response.end('<!doctype html><body></body>');
    });
    await new Promise<void>((resolve) => hostile.listen(0, '127.0.0.1', resolve));
    browser = await chromium.launch({
      executablePath: program ?? '',
      args: process.getuid?.() === 0 ? ['--no-sandbox'] : [],
    });
    context = await browser.newContext();
    address = host.mintAddress();
    const page = await context.newPage();
    await page.goto(address);
  });
  afterAll(async () => {
    await browser.close();
    hostile.close();
    await host.close();
    bench.remove();
  });

  const asked = (secret: string) =>
    context.pages()[0]?.evaluate(async (header) => {
      const got = await fetch('/api/app.start', {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-runledger-secret': header },
        body: '{}',
      });
      return [got.status, await got.text()] as const;
    }, secret);
  const secretOf = async () =>
    (await context.pages()[0]?.locator('meta[name=runledger-secret]').getAttribute('content')) ??
    '';

  test('the window itself came in by a clean address and can ask', async () => {
    expect(context.pages()[0]?.url()).toBe(`http://127.0.0.1:${host.port}/`);
    expect((await asked(await secretOf()))?.[0]).toBe(200);
    expect(reached).toEqual(['app.start']);
    expect((await asked('guess'))?.[0]).toBe(403);
    expect(reached).toEqual(['app.start']);
    const cookies = await context.cookies();
    expect(cookies).toMatchObject([{ httpOnly: true, sameSite: 'Strict', path: '/' }]);
  });

  test.each(['127.0.0.1', 'localhost'])(
    'from %s nothing is changed and nothing is read',
    async (name) => {
      reached.length = 0;
      const outputId = bench.store.putOutput('a.csv', Buffer.from('the-secret-content')).outputId;
      const page = await context.newPage();
      await page.goto(`http://${name}:${(hostile.address() as AddressInfo).port}/`);
      const read = await page.evaluate(attack, [`http://127.0.0.1:${host.port}`, outputId]);
      expect(read).toEqual([]);
      expect(reached).toEqual([]);
      await page.close();
      expect(reached).toEqual([]);
    },
  );

  test('a browser without the session is shown one sentence', async () => {
    const stranger = await browser.newContext();
    const page = await stranger.newPage();
    await page.goto(address);
    expect((await page.textContent('body'))?.trim()).toMatch(
      /^This address has been used or is too old: .*get a new one\.$/,
    );
    await stranger.close();
  });
});
