/**
 * What stands on a sheet of paper: the page and the PDF are made of the same, so that no text is written twice. Whoever
 * makes one has put every number and day into words already.
 */
export type Paper = {
  /** Whose paper it is: the organisation, at the head. */
  from: string | null
  title: string
  /** Who and what it is about, and as of which day: a line each. */
  lines: string[]
  /** What must be read before anything else: that it must not be driven. */
  alarm: string | null
  sections: PaperSection[]
  /** What it does not say, cautions, who has the last word; never left out. */
  foot: string[]
  /** What is filled in by hand at the end. */
  blanks: string[]
}

export type PaperSection = {
  heading: string | null
  /** What whoever reads it has to do: it stands out. */
  mark: string | null
  text: string[]
  rows: PaperRows | null
}

/** What may be more than a page holds, the most important first. */
export type PaperRows = (PaperLines | PaperTable | PaperJobs) & {
  /** So many at most, wherever it is shown; null: as many as there is room for. */
  most: number | null
  /** What is said where only the first `shown` are. */
  rest: (shown: number) => string
}

type PaperLines = { kind: 'lines'; all: string[] }
type PaperTable = {
  kind: 'table'
  /** What the table is, for whoever does not see it. */
  caption: string
  columns: { name: string; number?: boolean }[]
  all: string[][]
}
type PaperJobs = { kind: 'jobs'; all: PaperJob[] }

export type PaperJob = {
  name: string
  text: string[]
  /** Its cautions. */
  mind: string
  /** Boxes to tick, under what they are about. */
  ticks: { about: string | null; boxes: string[] }[]
  blanks: string[]
}

/** A section of plain text. */
export const textSection = (heading: string | null, text: string[]): PaperSection => ({
  ...{ heading, text },
  ...{ mark: null, rows: null },
})

/** How many of them are shown where there is room for `room` of each list. */
export const shownOf = ({ all, most }: PaperRows, room: number): number =>
  Math.min(all.length, most ?? all.length, room)

/** More lines than these have no room on a page, whatever stands in them. */
const MOST_ON_A_PAGE: Record<PaperRows['kind'], number> = { lines: 70, table: 55, jobs: 14 }

/** How many there are of the longest list of a paper, as far as a page could hold them. */
export const mostRoomOf = ({ sections }: Paper): number =>
  Math.max(0, ...sections.map(({ rows }) => (rows ? shownOf(rows, MOST_ON_A_PAGE[rows.kind]) : 0)))
