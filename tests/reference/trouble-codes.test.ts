import { expect, test } from 'vitest'
import { codeAtPosition, parseTroubleCode } from '@/lib/records/trouble-codes'
import { outsideCheck } from './outside-checks'
import reference from './trouble-codes.json'

/** Meanings are not kept by our code (the library's signs say what a code speaks for), so they are not compared. */
const check = outsideCheck({
  what: 'trouble codes: form, system, who defines it, two bytes, position; SPN, FMI',
  formula: 'SAE J2012 / ISO 15031-6, SAE J1979, SAE J1939-73 (from memory)',
  source: 'trouble-codes.json (written down by hand; two bytes computed)',
  tolerance: 'exact',
})

type Case = (typeof reference.cases)[number]
const ofKind = (...kinds: string[]): Case[] => reference.cases.filter((c) => kinds.includes(c.kind))

const SYSTEM = {
  powertrain: 'powertrain',
  chassis: 'chassis',
  body: 'body',
  network: 'network and vehicle integration',
}
const DEFINED_BY = { standard: 'standard (SAE/ISO)', manufacturer: 'manufacturer', reserved: 'reserved' }

test.each(ofKind('meaning', 'syntax'))('$id', (c) => {
  const code = parseTroubleCode(c.code ?? '')
  check.equal(code !== null, c.valid ?? true, c.id)
  if (code?.form !== 'five-characters') return
  check.equal(SYSTEM[code.system], c.system, c.id)
  check.equal(DEFINED_BY[code.definedBy], c.definedBy, c.id)
  if (c.twoBytesHex !== undefined) check.equal(code.twoBytes, c.twoBytesHex, c.id)
})

const positioned = reference.cases.filter((c) => c.position !== undefined)

test.each(positioned)('$id stands at position $position', (c) => {
  const pattern = c.pattern?.slice(0, 5) ?? `${c.code?.slice(0, 4)}#`
  check.equal(codeAtPosition(pattern, c.position ?? 0), c.code, c.id)
})

test.each(ofKind('spn-fmi'))('$id', (c) => {
  const code = parseTroubleCode(c.code ?? '')
  check.equal(code !== null, c.valid, c.id)
  if (code?.form === 'spn-fmi') check.equal(`${code.spn}:${code.fmi}`, `${c.spn}:${c.fmi}`, c.id)
})

test.each(ofKind('fmi'))('$id', (c) => {
  const code = parseTroubleCode(`100:${c.fmi}`)
  check.equal(code?.form === 'spn-fmi' && code.reserved, c.reserved, c.id)
})

test('every case of the file is checked, positions included', () => {
  const kinds = ofKind('meaning', 'syntax', 'spn-fmi', 'fmi')
  expect(kinds).toHaveLength(reference.header.cases)
  expect(positioned).toHaveLength(15)
})

check.done()
