import type { AtVehicleKind } from './sent-entry'

/** What the pages at the vehicle say. */
export const KIND_NAMES: Record<AtVehicleKind, string> = {
  reading: 'Odometer',
  look: 'Walk-round',
  codes: 'Codes',
  report: 'Driver says',
  repair: 'Repair',
  photograph: 'Photograph',
}

export const KIND_HINTS: Record<AtVehicleKind, string> = {
  reading: 'what it says now',
  look: 'sign by sign, zone by zone',
  codes: 'typed, or pasted from a scanner',
  report: 'what was noticed, in their words',
  repair: 'what was done and found',
  photograph: 'kept with the vehicle',
}

export const ENTER_WORDS: Record<AtVehicleKind, string> = {
  reading: 'Enter the odometer',
  look: 'Enter the walk-round',
  codes: 'Enter the codes',
  report: 'Enter what was said',
  repair: 'Enter the repair',
  photograph: 'Keep the photograph',
}

export const KEPT_HERE = 'Kept on this phone. It is sent as soon as there is an answer from the server.'

export const LINE_WORDS = {
  asking: 'Asking the server …',
  there: 'In touch with the server.',
  none: 'No reception. What you enter stays on this phone, and is sent when there is.',
  'signed-out': 'Nothing is lost: sign in again, and what waits here is sent.',
}

export const OPENS_WITHOUT = 'This page opens without reception.'

export const NOTHING_TAKEN_ALONG =
  'This phone has taken nothing along yet. Open this page once where there is reception; from then on it works without.'

export const NO_MEMORY =
  'This browser keeps nothing (a private window, perhaps), so that nothing could be kept without reception. Enter what happened on the vehicle’s page.'

export const MAY_NOT_ENTER =
  'Your role looks and changes nothing: what is found at the vehicle is entered by somebody who may enter records.'

export const STATE_WORDS = {
  waiting: 'On this phone only, not sent yet',
  sending: 'Being sent',
  entered: 'On record',
  asked: 'Not on record yet: say whether it is right',
  refused: 'Not on record: it has to be mended',
  gone: 'Not on record: there is no such vehicle',
  'not-allowed': 'Not on record: your role may not enter records. It stays on this phone.',
}

export const goneWords = (unit: string, into: string | null): string =>
  into === null
    ? `There is no vehicle ${unit}: it may have been given another number, or taken away. Type the number that it has now.`
    : `${unit} was made one with ${into}.`

/** What somebody else made on the same phone. */
export const othersWords = (name: string, count: number): string =>
  `${count} ${count === 1 ? 'entry' : 'entries'} of ${name} ${count === 1 ? 'waits' : 'wait'} on this phone. ` +
  `${count === 1 ? 'It is' : 'They are'} sent when ${name} signs in here.`

export const SIGNED_OUT = 'You are signed out'

export const NO_CAMERA =
  'The browser gives this page no camera: it does so only where the address begins with https. Type the number instead. (The phone’s own camera may open the label’s address.)'

export const CAMERA_REFUSED =
  'The camera is not to be had: it may be in use elsewhere, or not allowed for this page. Type the number instead.'

export const NEEDS_RECEPTION =
  'Which vehicle that label belongs to is known to the server alone, and there is no reception: type the number that stands on it.'

export const NOT_OURS = 'That label is none of ours. Try another one, or type the number.'

export const unknownHere = (unit: string): string =>
  `This phone does not know ${unit}. It may have come since: what you enter is kept, and you are told if there is no such vehicle.`
