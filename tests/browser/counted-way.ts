import type { Locator, Page } from 'playwright-core'

/**
 * Seconds that people take, from memory (the keystroke-level model of Card, Moran and Newell, 1980; nothing here was
 * measured on people): a keystroke of somebody who types now and then, pointing with a mouse, pressing its button, a
 * hand from mouse to keys, making up one's mind once.
 */
const KEYSTROKE = 0.28
const POINT = 1.1
const BUTTON = 0.2
const HOME = 0.4
const MIND = 1.35
/** A folder is opened and a file is found in it (a guess). */
const CHOOSE_FILE = 10
/** Words a second of somebody who reads a text that is new to them (240 a minute, from memory). */
const WORDS_A_SECOND = 4

const PRESS = MIND + POINT + BUTTON

/** What it takes to get somewhere in a browser: presses and fields are counted, a person's time is estimated. */
export class CountedWay {
  presses = 0
  fields = 0
  words = 0
  private humanSeconds = 0
  private readonly began = performance.now()
  private lastRead = ''

  constructor(readonly page: Page) {}

  /** Reads what is new on the page, decides, and presses. */
  async press(target: Locator): Promise<void> {
    await this.read()
    this.presses++
    this.humanSeconds += PRESS
    await target.click()
  }

  /** Fills a field, which takes a keystroke a character. */
  async fill(target: Locator, text: string): Promise<void> {
    this.fields++
    this.humanSeconds += PRESS + HOME + KEYSTROKE * text.length + HOME
    await target.fill(text)
  }

  /** Chooses one of a list: a press to open it, another on the choice. */
  async choose(target: Locator, value: string): Promise<void> {
    this.fields++
    this.humanSeconds += 2 * PRESS
    await target.selectOption(value)
  }

  async chooseFile(target: Locator, file: { name: string; mimeType: string; buffer: Buffer }): Promise<void> {
    this.fields++
    this.humanSeconds += PRESS + CHOOSE_FILE
    await target.setInputFiles(file)
  }

  /** Every word that the page shows and did not show before; lists of choices are not read out. */
  async read(): Promise<void> {
    const text = await this.page.locator('main').evaluate((main) => {
      const shown = main.cloneNode(true) as HTMLElement
      for (const hidden of shown.querySelectorAll(
        'select, script, style, details:not([open]) > :not(summary), .for-ears',
      ))
        hidden.remove()
      return shown.textContent ?? ''
    })
    const isNew = wordsOf(text).filter((word) => !wordsOf(this.lastRead).includes(word)).length
    this.words += isNew
    this.humanSeconds += isNew / WORDS_A_SECOND
    this.lastRead = text
  }

  get steps(): number {
    return this.presses + this.fields
  }

  /** What the machine took and a person would, together; the machine's waits count whole. */
  minutes(): { machine: number; person: number; together: number } {
    const machine = (performance.now() - this.began) / 60_000
    const person = this.humanSeconds / 60
    return { machine, person, together: machine + person }
  }

  toString(): string {
    const { machine, person, together } = this.minutes()
    const figures = [machine, person, together].map((minutes) => minutes.toFixed(1)).join(' + ')
    return `${this.presses} presses, ${this.fields} fields, ${this.words} words; ${figures.replace(/ \+ (?=[\d.]+$)/, ' = ')} min`
  }
}

const wordsOf = (text: string): string[] => text.match(/[\p{L}\p{N}][\p{L}\p{N}.,’-]*/gu) ?? []
