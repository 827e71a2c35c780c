/** The plan as a calendar file by the machine interface, read back by a reader of calendars that is not ours. */
import ICAL from 'ical.js'
import { expect, test } from 'vitest'
import { firstDayOf, WEEK } from '@/lib/decisions/plan-weeks'
import { withOrganisation } from '@/lib/store/with-organisation'
import { keepPlan, newPlanId } from '@/lib/store/write/keep-plan'
import { putPlanTerms } from '@/lib/store/write/put-plan-terms'
import { addPlanVisit } from '@/lib/store/write/put-plan-visit'
import { dayIn, formatDay } from '@/lib/units/dates'
import { fileText, fleetFolder } from './fleet'
import { ask, machine } from './machine'

const { database, organisation } = await machine()
const now = new Date()
const today = dayIn('UTC', now)
const monday = firstDayOf(today) + WEEK

const eventsIn = (text: string) => {
  const calendar = new ICAL.Component(ICAL.parse(text))
  return calendar.getAllSubcomponents('vevent').map((each) => new ICAL.Event(each))
}

test('without a plan it is a calendar without events, and only for whoever has a token', async () => {
  const { tokens } = await organisation('unplanned')
  expect((await ask('GET', '/api/v1/plan.ics')).status).toBe(401)
  const { status, headers, text } = await ask('GET', '/api/v1/plan.ics', { token: tokens.reader })
  expect([status, headers.get('content-type')]).toEqual([200, 'text/calendar; charset=utf-8'])
  expect(eventsIn(text)).toEqual([])
})

test('each visit is an event over the working days of its week, the same one when it is moved', async () => {
  const { id, tokens } = await organisation('planned')
  const library = JSON.parse(fileText(fleetFolder(1), 'library.json'))
  const [family] = library.families
  const [point] = family.weakPoints
  expect((await ask('PUT', '/api/v1/library', { token: tokens.owner, json: library })).status).toBe(200)
  const vehicle = { unit: 'A, "1"', family: family.key, odometer_km: 90_000, history: 'none' }
  const entered = await ask('POST', '/api/v1/vehicles', { token: tokens.owner, json: [vehicle] })
  expect(entered.json()).toMatchObject({ rejected: [] })
  const job = { id: 'job', unit: vehicle.unit, weakPoint: point.key, positions: [1], hours: 2.5 }
  const planned = { ...job, sharedHours: 0, access: null, stop: false, gainByWeek: [9, 9, 9], partsInWeek: 0 }
  const visit = await withOrganisation(
    database,
    id,
    async (scope) => {
      const by = { now, by: null }
      const bays = [{ name: 'Hall; 1', hours: 30, except: [] }]
      await putPlanTerms(scope, { weeks: 3, kept: 0, bays }, by)
      const content = { jobs: [planned], hourPrices: [], moreHours: [], visits: [] }
      const kept = {
        id: newPlanId(now),
        firstDay: firstDayOf(today),
        weeks: 3,
        asOf: today,
        gain: 9,
        bound: 9,
      }
      await keepPlan(scope, { ...kept, content, madeAt: now, by: null }, now)
      const none = { promisedOn: null, promisedWhom: null, doneOn: null, madeBy: null }
      const at = { weekOn: monday, bay: 0, hours: 2.5, gain: 9, jobs: [job], pinned: false, madeAt: now }
      return addPlanVisit(scope, vehicle.unit, { ...none, ...at })
    },
    'write',
  )
  expect(visit).not.toBeNull()
  const read = async () => eventsIn((await ask('GET', '/api/v1/plan.ics', { token: tokens.reader })).text)
  const [event, ...others] = await read()
  expect(others).toEqual([])
  expect(event).toMatchObject({ summary: 'A, "1", 2.5 h', location: 'Hall; 1' })
  expect(event!.startDate.toString()).toBe(formatDay(monday))
  expect(event!.endDate.toString()).toBe(formatDay(monday + 5)) // the day after Friday
  expect(event!.description).toContain(point.component)
  await withOrganisation(
    database,
    id,
    ({ tx }) => tx.$executeRaw`update plan_visits set week_on = week_on + 7`,
    'write',
  )
  const [moved] = await read()
  expect(moved!.uid).toBe(event!.uid)
  expect(moved!.startDate.toString()).toBe(formatDay(monday + WEEK))
})
