import { detached, unescapeText } from './escaped-text.ts';
import { isOn, type XmlAttributes } from './xml-walk.ts';

/** Whether a text is struck through: by itself, as its cell says, or no. */
export type StruckState = 'yes' | 'as-cell' | 'no';

/** A piece of a text with a look of its own. */
export interface RichRun {
  readonly text: string;
  readonly struck: StruckState;
  /** Its `color` element; undefined: automatic, or as the cell when `struck` is `as-cell`. */
  readonly colour: XmlAttributes | undefined;
}

export interface RichText {
  readonly text: string;
  /** Only where a run is struck or coloured, or says that it is neither. */
  readonly runs?: readonly RichRun[];
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
  #runs: RichRun[] = [];
  #anyProperties = false;
  #runHasProperties = false;
  #runStruck = false;
  #runColour: XmlAttributes | undefined;
  #runText = '';
  #inRun = false;

  open(name: string, attributes: XmlAttributes): void {
    if (name === 'rPh') this.#phonetic++;
    else if (this.#phonetic > 0) return;
    else if (name === 't') this.#inText = true;
    else if (name === 'r') {
      this.#inRun = true;
      this.#runHasProperties = false;
      this.#runStruck = false;
      this.#runColour = undefined;
      this.#runText = '';
    } else if (name === 'rPr') {
      this.#inProperties = true;
      this.#runHasProperties = true;
    } else if (this.#inProperties) {
      if (name === 'strike') this.#runStruck = isOn(attributes.val, true);
      else if (name === 'color') this.#runColour = attributes;
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
    const struck = this.#runStruck ? 'yes' : 'no';
    if (this.#runHasProperties) this.#anyProperties = true;
    this.#runs.push({
      text: detached(unescapeText(this.#runText)),
      struck: this.#runHasProperties ? struck : 'as-cell',
      colour: this.#runColour,
    });
  }

  /** The item as gathered; the collector is empty again afterwards. */
  take(): RichText {
    const text = detached(unescapeText(this.#text));
    const runs = this.#anyProperties ? this.#runs : undefined;
    this.#text = '';
    this.#runs = [];
    this.#anyProperties = false;
    return runs === undefined ? { text } : { text, runs };
  }
}
