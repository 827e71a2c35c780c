/** Papers as PDF, read back by a program that did not make them: one page, all that must stand on it, nothing else's. */
import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { knownLetters } from '@/app/(people)/paper/fonts'
import type { Paper } from '@/app/(people)/paper/paper'
import { papersAsPdf, sheetOf } from '@/app/(people)/paper/paper-pdf'
import { jobCardPaper } from '@/app/(people)/vehicles/[unit]/job-card-paper'
import { stockFilePaper, stockSheetPaper } from '@/app/(people)/vehicles/[unit]/stock-paper'
import { formatsFor } from '@/app/ui/formats'
import { CAUTION } from '@/app/ui/words'
import type { VehicleSetAside } from '@/lib/jobs/set-aside'
import { engineStory } from '@/lib/records/engine-story'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import type { VehicleHead } from '@/lib/store/read/vehicle-head'
import { parseDay } from '@/lib/units/dates'
import { engine, point, sign } from '../scoring/one-vehicle'
import { checkRow, codeRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'
import { type PdfPage, readPdf } from './read-pdf'

const TODAY = parseDay('2026-06-30')!
const TERMS = {
  ...{ name: 'Müller & Söhne', locale: 'en-GB', timeZone: 'UTC', distance: 'km' as const },
  ...{ vehicleNumber: 'vehicle' as const, currency: 'EUR', slotDays: 14 },
}
const formats = formatsFor(TERMS, 'km')
const told = { from: TERMS.name, formats }
const CARE = 'Fuel stands under high pressure: wait until it has gone.'
const pointsOf = (count: number, caution = CARE) =>
  Array.from({ length: count }, (_, i) =>
    point(`part-${i}`, 90_000, 180_000, 8_000, { part: `P-${i}`, cautions: [`${caution} (${i})`] }),
  )
const familyOf = (count: number, caution?: string) =>
  engine(pointsOf(count, caution), [
    sign('knock', 'road', { 'part-0': 0.8 }, { label: 'Knocks when cold', how: 'Start it after a night.' }),
  ]).families[0]!

/** Pictures are written where somebody says so, to be looked at. */
const PICTURES = process.env.PAPER_PICTURES

async function printed(paper: Paper, name: string): Promise<PdfPage> {
  const pages = await readPdf(await papersAsPdf([paper], 'a4'))
  expect(pages).toHaveLength(1)
  const [page] = pages
  if (PICTURES) writeFileSync(path.join(PICTURES, `${name}.png`), page!.picture)
  // Nothing runs out of the page, and it is not empty.
  expect(page!.inked).toBeGreaterThan(2000)
  expect(page!.margins.right).toBeGreaterThan(0.05)
  expect(page!.margins.bottom).toBeGreaterThan(0.03)
  return page!
}

function card(
  count: number,
  { unit = 'V-004', stop = false, caution = CARE, customer = 'Übergang Łódź' } = {},
) {
  const members = (weakPoint: string) => [
    {
      ...{ weakPoint, position: 1, gain: 300, gainBand: { low: -20, high: 900 }, cost: 410, due: true, stop },
      ...{ hours: 2, sharedHours: 0, access: null, part: null },
    },
  ]
  const jobs = Array.from({ length: count }, (_, i) => ({
    ...{ weakPoint: `part-${i}`, positions: [1], price: 410, hours: 2, gain: 300, low: -20, high: 900 },
    ...{ stop: stop && i === 0, due: true, members: members(`part-${i}`) },
  }))
  const score: VehicleHead['score'] = {
    ...{ standing: 'book', speaks: null, asOf: TODAY, odometerKm: 123_456, odometerReadOn: TODAY - 3 },
    ...{ odometerEstimated: true, kmPerDay: 40, stands: false, combined: 0.4, leading: null },
    ...{ lastFullScanOn: null, lastLookedAtOn: null, weakPointsCovered: count },
  }
  const head: VehicleHead = {
    ...{
      unit,
      plate: 'GU 1234',
      vin: null,
      familyKey: 'plover-22',
      family: 'Plover 2.2',
      site: null,
      customer,
    },
    ...{ contact: null, status: 'active', leftOn: null, coverUntilOn: null, coverUntilKm: null },
    ...{ duty: 'mixed', history: 'full', watchedFromKm: null, watchedFromOn: null, score },
  }
  return {
    ...{ head, terms: TERMS, today: TODAY, family: familyOf(Math.max(count, 1), caution), planned: null },
    components: Array.from({ length: count }, (_, i) => ({
      ...{ weakPoint: `part-${i}`, name: `Part ${i}`, place: null, position: 1, pFail: 0.3, pLow: 0.1 },
      ...{ pHigh: 0.5, pDeveloping: 0.2, remainingKmP50: null, costOfWaiting: 20, waitingLow: null },
      ...{ waitingHigh: null, advice: 'book' as const, speaks: 'ran far' },
    })),
    visit: {
      ...{ jobs, price: 410 * count, visit: 60, hours: 2 * count, hoursSaved: 0, saving: 300, savingLow: 0 },
      ...{ savingHigh: 900, exact: true, left: [], parts: [] },
    },
  }
}

test('a job card has its jobs, what to mind, who has the last word, and of which day it is', async () => {
  const { text } = await printed(jobCardPaper(card(2, { stop: true }), TERMS.name, formats), 'job-card')
  for (const words of [
    'Müller & Söhne',
    'Job card: V-004',
    'Übergang Łódź',
    'As of Tuesday, 30 June 2026.',
    'Odometer about 123,456 km.',
    '4 hours, done together.',
    'Do not drive before it is done. Engine off, do not restart, tow.',
    'Part P-1, 1 of them. Why: ran far.',
    'Look first: Knocks when cold (Start it after a night).',
    `Mind: ${CARE} (0)`,
    `Mind: ${CARE} (1)`,
    'only looked at',
    'Part version',
    'Done on',
    CAUTION,
  ])
    expect(text).toContain(words)
})

test('forty jobs fit no page: it says how many more there are, and keeps cautions and the last word', async () => {
  const { text } = await printed(jobCardPaper(card(40), TERMS.name, formats), 'job-card-40')
  const shown = text.match(/Mind: /g)!.length
  expect(shown).toBeGreaterThan(3)
  expect(text).toContain(
    `And ${40 - shown} more jobs, with their cautions: see the vehicle’s page before work begins.`,
  )
  expect(text).toContain(CAUTION)
})

test('names and cautions without end still leave one page, which says that it is not all', async () => {
  const endless = card(3, {
    ...{
      unit: 'W'.repeat(300),
      customer: 'Müller '.repeat(200),
      caution: 'Beware of all that moves. '.repeat(400),
    },
  })
  const { text } = await printed(jobCardPaper(endless, TERMS.name, formats), 'job-card-endless')
  expect(text).toContain('… (shortened: the rest is on its page)')
  expect(text).toContain('Mind: Beware of all that moves.')
  expect(text).toContain(CAUTION)
})

test('the card of a planned visit says when it was planned, what is done already, and what has come up since', async () => {
  const own = card(3)
  const [first, second, third] = own.visit.jobs
  const visit = { jobs: [first!], hours: 2 }
  const planned = { ...visit, weekOn: TODAY - 1, bay: 'Bay 2', written: [second!] }
  const components = own.components.map((each) => ({
    ...each,
    advice: each.weakPoint === third!.weakPoint ? ('stop' as const) : each.advice,
  }))
  const paper = jobCardPaper({ ...own, visit, planned, components }, TERMS.name, formats)
  expect(paper.lines.at(-1)).toBe(
    'As planned for the week of 29 Jun 2026, Bay 2. On record already, and not on this card: part-1.',
  )
  expect(paper.alarm).toBe(
    'Do not drive: Part 2 has come up since, and is not on this card. Engine off, do not restart, tow.',
  )
  const { text } = await printed(paper, 'job-card-planned')
  expect(text.match(/Mind: /g)).toHaveLength(1)
  const none = { ...planned, jobs: [], hours: 0 }
  const empty = jobCardPaper({ ...own, visit: none, planned: none }, TERMS.name, formats)
  expect(empty.sections[0]!.text).toEqual(['Every job that was planned for this visit is on record.'])
})

test('of several papers each has its page', async () => {
  const papers = ['V-1', 'V-2', 'V-3'].map((unit) => jobCardPaper(card(2, { unit }), TERMS.name, formats))
  const pages = await readPdf(await papersAsPdf(papers, 'letter'))
  expect(pages.map(({ text }) => text.match(/Job card: (V-\d)/)?.[1])).toEqual(['V-1', 'V-2', 'V-3'])
})

/** A vehicle for sale with `looks` looks and as many repairs; what is the house's own is marked. */
function stock(looks: number) {
  const unit = 'S-9'
  const vehicle = {
    ...vehicleRow({ unit, family: 'plover-22' }),
    ...{
      plate: 'GU 9',
      builtOn: TODAY - 3000,
      inServiceOn: null,
      vin: null,
      variant: null,
      status: 'stock' as const,
    },
    ...{ customer: 'PRIVATE-CUSTOMER', contact: 'PRIVATE-CONTACT', acquiredOn: TODAY - 30 },
    ...{ acquiredFrom: 'PRIVATE-SELLER', purchasePrice: 4321, prepCost: 345, value: 7654, askingPrice: 8765 },
  }
  const checks = Array.from({ length: looks }, (_, i) => ({
    ...checkRow({ unit, checkedOn: TODAY - 10 * i - 1, kind: 'road' }),
    ...{ seen: i === 0 ? [{ sign: 'knock', position: null }] : [], odometerKm: 90_000 - i },
    notes: { said: 'PRIVATE-NOTE' },
  }))
  const repairs = Array.from({ length: looks }, (_, i) => ({
    ...repairRow({ unit, doneOn: TODAY - 400 - i, weakPoint: 'part-0' }),
    ...{ note: 'PRIVATE-NOTE', supplier: 'PRIVATE-SUPPLIER', partsCost: 5432, odometerKm: 80_000 },
  }))
  const codes = [{ ...codeRow({ unit, seenOn: TODAY - 2, code: 'P0301' }), notes: { said: 'PRIVATE-NOTE' } }]
  const [records] = groupByVehicle(recordsOf({ vehicles: [vehicle], checks, repairs, codes }))
  return {
    ...{ terms: TERMS, today: TODAY, vehicle, story: engineStory(records!), family: familyOf(2) },
    head: { ...card(1).head, unit, customer: 'PRIVATE-CUSTOMER' },
  }
}

const ASIDE: VehicleSetAside = {
  ...{ asOf: TODAY, cover: { days: 365, km: 15_000 }, coverOf: 'usual' },
  ...{ terms: null, claimLimit: null, first: null, enough: { share: 0.8, amount: 987 } },
  amounts: { mean: 500, p50: 210, p80: 987, p95: 2345, meanOfUnknownHistory: 0, exact: true } as never,
  ...{
    classes: [],
    points: [],
    choices: [],
    value: 7654,
    shareOfValue: 0.129,
    grade: null,
    hasOwnGrades: false,
  },
}

/** What of a vehicle for sale is the house's own business: amounts, names, what somebody wrote freely. */
const OWN = /PRIVATE|[€₺]|4,?321|8,?765|7,?654|5,?432|987|set aside|disclose|for the house/i

test('a public stock sheet has nothing of what only the house may read; the file has', async () => {
  const sheet = await printed(stockSheetPaper(stock(3), told), 'stock-sheet')
  for (const words of [
    'Stock sheet: S-9',
    'As of Tuesday, 30 June 2026.',
    'Drive: seen: Knocks when cold',
    'Code P0301 read',
    'Not covered by this sheet: brakes',
    'that is no warranty',
    CAUTION,
  ])
    expect(sheet.text).toContain(words)
  expect(sheet.text).not.toMatch(OWN)

  const file = await printed(stockFilePaper(stock(3), ASIDE, told), 'stock-file')
  for (const words of [
    'For the house alone: not to be handed out.',
    'Check what you must disclose.',
    'Knocks when cold seen',
    'Bought for €4,321',
    'Asked €8,765.',
    'In 8 of 10 such covers the cost stays within €987.',
    'In 19 of 20 such covers the cost stays within €2,345.',
    CAUTION,
  ])
    expect(file.text).toContain(words)
})

test('a long story keeps the latest on its page and says from when the others are', async () => {
  const { text } = await printed(stockSheetPaper(stock(60), told), 'stock-sheet-60')
  expect(text).toMatch(/And \d+ earlier, from .* on\./)
  expect(text).toContain(CAUTION)
  expect(text).not.toMatch(OWN)
})

test('amounts of any locale and letters of other writings are printed; what no typeface has is a question mark', async () => {
  const lira = formatsFor({ locale: 'tr-TR', currency: 'TRY' }, 'km').money(1234)
  const french = formatsFor({ locale: 'fr-FR', currency: 'EUR' }, 'km').money(1234567)
  const letters = await knownLetters()
  expect(letters(`${lira} Ğğİış`)).toBe('₺1.234 Ğğİış')
  expect(letters(french)).toBe('1\u00a0234\u00a0567\u00a0€')
  expect(letters('Привет Ωμέγα Łódź 🚗漢')).toBe('Привет Ωμέγα Łódź ??')
  const paper: Paper = {
    ...{
      from: 'Ünlü Ağaç',
      title: lira,
      lines: [french, 'Привет Ωμέγα'],
      alarm: null,
      foot: [CAUTION],
      blanks: [],
    },
    sections: [],
  }
  const { text } = await printed(paper, 'letters')
  for (const words of ['Ünlü Ağaç', '₺1.234', '1 234 567 €', 'Привет Ωμέγα']) expect(text).toContain(words)
})

test('the sheet is the one that people have there', () => {
  expect(['en-GB', 'tr-TR', 'de', 'en-US', 'fr-CA'].map(sheetOf)).toEqual([
    'a4',
    'a4',
    'a4',
    'letter',
    'letter',
  ])
})
