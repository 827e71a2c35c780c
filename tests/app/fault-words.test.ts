/** The search for a fault, in words: the next step and its cost, what it saves, where to stop and ask. */
import { describe, expect, it } from 'vitest'
import { faultAddress, faultAsked } from '@/app/(people)/fault-finding/fault-asked'
import { entryAddress } from '@/app/(people)/fault-finding/fault-sections'
import {
  againstWords,
  chanceWords,
  costWords,
  helpedWords,
  howWords,
  nextWords,
  signWords,
  stopWords,
  trialWords,
} from '@/app/(people)/fault-finding/fault-words'
import { formatsFor } from '@/app/ui/formats'
import type { FaultMove, FaultSearched } from '@/lib/jobs/find-fault'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const look: FaultMove = {
  do: {
    kind: 'look',
    sign: { sign: 'leak-off', label: 'Too much leak-off', place: 'cylinder', position: 3 },
    ...{ by: 'measure', how: 'With four glasses' },
  },
  ...{ cost: 24, chance: 0.34, expectedCostFromHere: 310 },
}
const renew = (name: string, cost: number): FaultMove => ({
  do: {
    kind: 'renew',
    part: { weakPoint: name.toLowerCase(), name, place: 'cylinder', position: 3 },
    cautions: ['Mind the pressure.'],
  },
  ...{ cost, chance: 0.5, expectedCostFromHere: 290 },
})
const search: FaultSearched = {
  seen: [],
  causes: [],
  moves: [look, renew('Plug', 60), renew('Coil', 90)],
  expectedCost: 310,
  stop: null,
  obvious: { moves: [renew('Coil', 90), renew('Plug', 60)], expectedCost: 352 },
  saving: 42,
}

describe('the search for a fault', () => {
  it('says what is next, what it costs and what may come out', () => {
    expect(nextWords(look, formats)).toBe('Next: look for “Too much leak-off, cylinder 3”, about €24.')
    expect(chanceWords(look, formats)).toBe('it is seen: about 1 in 3')
    expect(howWords(look)).toBe('It is measured. With four glasses.')
    expect(nextWords(renew('Plug', 60), formats)).toBe(
      'Next: replace the plug, cylinder 3, on trial, about €60.',
    )
    expect(chanceWords(renew('Plug', 60), formats)).toBe('it was this: about 1 in 2')
    expect(costWords(0, formats)).toBe('nothing more')
  })

  it('names the lamp that nobody has read', () => {
    const lamp = { sign: 'lamp-on', label: 'lamp-on', place: null, position: null }
    expect(signWords(lamp)).toBe('engine lamp on')
  })

  it('is held against replacing the likeliest first', () => {
    expect(againstWords(search, formats)).toBe(
      'In this order, finding the fault and mending it costs about €310 on the average. To replace the likeliest ' +
        'part first, then the next (Coil, cylinder 3; then Plug, cylinder 3), would cost about €350: this order ' +
        'saves about €42.',
    )
    const same = { ...search, obvious: { ...search.obvious, expectedCost: 310.2 }, saving: 0.2 }
    expect(againstWords(same, formats)).toContain('costs the same.')
    const one = { ...same, obvious: { ...same.obvious, moves: [renew('Coil', 90)] } }
    expect(againstWords(one, formats)).toContain('Only one part is left that it can be: Coil, cylinder 3.')
  })

  it('says where to stop and ask, and why', () => {
    expect(stopWords(search, null, formats)).toBe('')
    expect(stopWords(search, 300, formats)).toBe('All of these steps together stay within €300.')
    expect(stopWords({ ...search, stop: { after: 0, why: 'limit' } }, 20, formats)).toBe(
      'Stop here, and ask: the next step (look for “Too much leak-off, cylinder 3”, about €24) would bring what is ' +
        'spent above €20.',
    )
    expect(stopWords({ ...search, stop: { after: 2, why: 'likeliest-job' } }, null, formats)).toBe(
      'Stop after step 2, and ask: going on costs more than the likeliest job.',
    )
  })

  it('counts a trial replacement as helping after a distance only', () => {
    expect(helpedWords(formats)).toContain('1,500 km without the sign')
  })

  it('says how far a replacement on trial has been driven, and from when on it has helped', () => {
    const part = { weakPoint: 'plug', name: 'Plug', place: 'cylinder', position: 3, on: 20_500 } as const
    const sign = { sign: 'misfire', label: 'Misfire', place: 'cylinder', position: 3 } as const
    const trial = { sign, seenOn: 20_499, parts: [part], drivenKm: 820, helped: false }
    expect(trialWords(trial, formats)).toContain(
      'Driven 820 km since without it: it counts as having helped from 1,500 km on.',
    )
    expect(trialWords({ ...trial, drivenKm: 1600, helped: true }, formats)).toMatch(
      /1,600 km .*: it has helped\.$/,
    )
    expect(trialWords({ ...trial, drivenKm: 0 }, formats)).toContain('No reading since')
  })

  it('has each result entered where records are entered', () => {
    expect(entryAddress('V 1', look)).toBe('/vehicles/V%201?enter=look#enter')
    expect(entryAddress('V-1', renew('Plug', 60))).toBe('/vehicles/V-1?enter=repair&weak-point=plug#enter')
    const code: FaultMove = { ...look, do: { ...look.do, by: 'code' } as FaultMove['do'] }
    expect(entryAddress('V-1', code)).toBe('/vehicles/V-1?enter=codes#enter')
  })
})

describe('what an address asks for', () => {
  it('is a vehicle and a limit', () => {
    expect(faultAsked({})).toEqual({ unit: null, limit: null, unread: null })
    expect(faultAsked({ unit: ' V-004 ', limit: '300' })).toEqual({ unit: 'V-004', limit: 300, unread: null })
    expect(faultAsked({ unit: ['V-004'], limit: '0' })).toMatchObject({ limit: 0 })
    expect(faultAddress('V 4&b')).toBe('/fault-finding?unit=V+4%26b')
  })

  it('has no limit where it cannot be read, and says so', () => {
    expect(faultAsked({ limit: 'much' })).toEqual({
      ...{ unit: null, limit: null },
      unread: '“much” is not an amount, so there is no limit.',
    })
    expect(faultAsked({ limit: '-5' })).toMatchObject({ limit: null, unread: expect.stringContaining('-5') })
  })
})
