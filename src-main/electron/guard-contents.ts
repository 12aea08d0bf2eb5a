/** No page goes anywhere, opens anything or embeds anything; a few addresses open outside. */
import { shell, type WebContents } from 'electron';
import { isOwnPage, mayOpenOutside } from '../shell/own-address.ts';

export function guardContents(contents: WebContents): void {
  contents.setWindowOpenHandler(({ url }) => {
    if (mayOpenOutside(url)) void shell.openExternal(url);
    return { action: 'deny' };
  });
  contents.on('will-navigate', (event) => {
    if (!isOwnPage(event.url)) event.preventDefault();
  });
  contents.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame || !isOwnPage(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.on('select-bluetooth-device', (event, _devices, answer) => {
    event.preventDefault();
    answer('');
  });
}
