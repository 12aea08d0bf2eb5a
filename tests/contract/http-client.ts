import { request } from 'node:http';

export interface Sent {
  readonly method?: string;
  readonly path: string;
  readonly headers?: Readonly<Record<string, string | string[]>>;
  readonly body?: string | Uint8Array;
}

export interface Got {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: Buffer;
}

/** One request as bare as can be: no header but Host and those given, and Host can be given too. */
export function send(port: number, { method = 'GET', path, headers, body }: Sent): Promise<Got> {
  return new Promise((resolve, reject) => {
    const sent = request(
      { host: '127.0.0.1', port, method, path, headers: headers ?? {}, agent: false },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.once('error', reject);
        response.once('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(chunks),
          }),
        );
      },
    );
    sent.once('error', reject);
    sent.end(body);
  });
}
