import { unescapeText } from './escaped-text.ts';
import { isOn, type XmlAttributes } from './xml-walk.ts';

/** Whether a text is struck through: by itself, as its cell says, or no. */
export type StruckState = 'yes' | 'as-cell' | 'no';

export interface RichText {
  readonly text: string;
  readonly struck: StruckState;
}

/**
 * Gathers a string item (`si`, `is`, comment `text`): plain text or runs, phonetic hints left out.
 * Feed it the elements and text inside the item.
 */
export class RichTextCollector {
  #text = '';
  #inText = false;
  #phonetic = 0;
  #inProperties = false;
  #runHasProperties = false;
  #runStruck = false;
  #runText = '';
  #inRun = false;
  #anyClear = false;
  #anyAsCell = false;
  #anyStruck = false;

  open(name: string, attributes: XmlAttributes): void {
    if (name === 'rPh') this.#phonetic++;
    else if (this.#phonetic > 0) return;
    else if (name === 't') this.#inText = true;
    else if (name === 'r') {
      this.#inRun = true;
      this.#runHasProperties = false;
      this.#runStruck = false;
      this.#runText = '';
    } else if (name === 'rPr') {
      this.#inProperties = true;
      this.#runHasProperties = true;
    } else if (name === 'strike' && this.#inProperties) {
      this.#runStruck = isOn(attributes.val, true);
    }
  }

  text(text: string): void {
    if (!this.#inText) return;
    if (this.#inRun) this.#runText += text;
    else this.#text += text;
  }

  close(name: string): void {
    if (name === 'rPh') this.#phonetic--;
    else if (this.#phonetic > 0) return;
    else if (name === 't') this.#inText = false;
    else if (name === 'rPr') this.#inProperties = false;
    else if (name === 'r') this.#endRun();
  }

  #endRun(): void {
    this.#inRun = false;
    this.#text += this.#runText;
    if (this.#runText.trim() === '') return;
    if (!this.#runHasProperties) this.#anyAsCell = true;
    else if (this.#runStruck) this.#anyStruck = true;
    else this.#anyClear = true;
  }

  /** The item as gathered; the collector is empty again afterwards. */
  take(): RichText {
    const text = unescapeText(this.#text);
    const struck = this.#anyClear ? 'no' : this.#anyStruck && !this.#anyAsCell ? 'yes' : 'as-cell';
    this.#text = '';
    this.#anyClear = false;
    this.#anyAsCell = false;
    this.#anyStruck = false;
    return { text, struck };
  }
}
