/**
 * How long texts may be that people and machines write: stated here alone. Longer than anything that people write on
 * purpose, and short enough to be shown, searched and kept a hundred thousand times.
 */

/** What something is found again by or called: numbers, keys, names, places, signs. */
export const LONGEST_NAME = 200

/** What is said in sentences: notes, cautions, how to look, on what grounds. As much as a cell of a workbook holds. */
export const LONGEST_TEXT = 32_767

/** What is wrong with a text that is too long, for a person; null where it is not. */
export const tooLong = (text: string, most: number): string | null =>
  text.length > most ? `has ${text.length} characters, the most taken is ${most}` : null
