/** A box to tick: the typefaces that a PDF carries along have none, so that one is made of brackets there. */
export const BOXES = { page: '☐', pdf: '[\u00a0\u00a0]' } as const
export type Box = (typeof BOXES)[keyof typeof BOXES]
