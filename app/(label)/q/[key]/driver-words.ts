import type { DriverReportKind } from '@/lib/records/driver-report'

/** What a driver may say that it is. */
export const DRIVER_KINDS: Record<DriverReportKind, string> = {
  lamp: 'a lamp is on',
  noise: 'a noise',
  leak: 'something leaks',
  smell: 'a smell, or smoke',
  power: 'it lacks power',
  else: 'something else',
}

/** When nobody waits for an answer, and what to do then. */
export const STOP_AT_ONCE = {
  when: ['a red lamp for oil pressure or temperature is on', 'it smells of fuel', 'there is smoke'],
  what: 'Stop where it is safe, engine off, get out. Do not restart it. Call the workshop by telephone: nobody may be reading this form just now.',
}

/** What stands under what was said of a thing that may not wait. */
export const MIND: Partial<Record<DriverReportKind, string>> = {
  lamp: 'If the lamp is red: engine off, do not restart, call the workshop.',
  smell: 'With smoke or a smell of fuel: engine off, everybody out, do not restart, call the workshop.',
  leak: 'If it is fuel, or if a red lamp is on: engine off, do not restart, call the workshop.',
  power: 'If a red lamp is on or there is smoke: engine off, do not restart, call the workshop.',
}

export const REFUSED = {
  gone: 'This label does not work any more. Tell the workshop by telephone.',
  'too-often': 'There were too many reports within a minute. Wait a minute, then send it again.',
  'not-found': 'This vehicle is not there any more. Tell the workshop by telephone.',
  'too-many-wait':
    'So many reports of this vehicle wait already that no more are taken. Tell the workshop by telephone.',
}

export const RECEIVED =
  'Thank you, the workshop has it. Somebody there reads it before anything else is done with it.'
