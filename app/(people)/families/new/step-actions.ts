'use server'

import {
  type FamilyDraft,
  type LinkDraft,
  withEngine,
  withLink,
  withoutLink,
  withoutRevision,
  withoutSign,
  withoutVariant,
  withoutWeakPoint,
  withRevision,
  withSign,
  withVariant,
  withWeakPoint,
} from '@/lib/intake/family-draft'
import {
  engineFrom,
  linkFrom,
  revisionFrom,
  signFrom,
  variantFrom,
  weakPointFrom,
} from '@/lib/intake/family-forms'
import { statedNow } from '@/lib/intake/stated-now'
import { positionsLost } from '@/lib/jobs/positions-lost'
import { dayIn } from '@/lib/units/dates'
import type { FormState } from '../../../ui/form-state'
import { type Step, takeStep } from './take-step'

/** A step that takes something out; whoever binds it leaves the last two to the form. */
function change(
  id: string,
  next: (family: FamilyDraft) => FamilyDraft,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  return takeStep(id, (family) => ({ ok: true, value: next(family) }), before, data)
}

/** States the engine as a whole anew; what records name of its positions must stay. */
export async function keepEngine(id: string, before: FormState, data: FormData) {
  const step: Step = async (family, typed, { scope }) => {
    const read = engineFrom(typed, family.weakPoints)
    if (!read.ok) return read
    const next = withEngine(family, read.value)
    const lost = await positionsLost(scope, family, next)
    if (lost === null) return { ok: true, value: next }
    return { ok: false, errors: [{ field: 'cylinders', message: lost }] }
  }
  return takeStep(id, step, before, data)
}

/** @param key of the weak point that is stated anew; null for another one */
export async function keepWeakPoint(id: string, key: string | null, before: FormState, data: FormData) {
  const step: Step = (family, typed, { terms, person, now }) => {
    const read = weakPointFrom(typed, terms.distance)
    if (!read.ok) return read
    const { statedBy = '', statedOn = '' } = typed
    const who = { typed: { statedBy, statedOn }, by: person.name, today: dayIn(terms.timeZone, now) }
    return { ok: true, value: statedNow(family, withWeakPoint(family, key, read.value), who) }
  }
  return takeStep(id, step, before, data)
}

/** @param key of the sign that is stated anew; null for another one */
export async function keepSign(id: string, key: string | null, before: FormState, data: FormData) {
  const step: Step = (family, typed) => {
    const read = signFrom(typed, keysOf(family))
    return read.ok ? { ok: true, value: withSign(family, key, read.value) } : read
  }
  return takeStep(id, step, before, data)
}

/** @param key of the version of the part that is stated anew; null for another one */
export async function keepRevision(
  id: string,
  weakPoint: string,
  key: string | null,
  before: FormState,
  data: FormData,
) {
  const step: Step = (family, typed) => {
    const read = revisionFrom(typed)
    return read.ok ? { ok: true, value: withRevision(family, weakPoint, key, read.value) } : read
  }
  return takeStep(id, step, before, data, { next: () => `weak-points/${encodeURIComponent(weakPoint)}` })
}

export async function removeRevision(
  id: string,
  weakPoint: string,
  key: string,
  before: FormState,
  data: FormData,
) {
  return change(id, (family) => withoutRevision(family, weakPoint, key), before, data)
}

/** @param key of the version of the engine that is stated anew; null for another one */
export async function keepVariant(id: string, key: string | null, before: FormState, data: FormData) {
  const step: Step = (family, typed) => {
    const read = variantFrom(typed, keysOf(family))
    return read.ok ? { ok: true, value: withVariant(family, key, read.value) } : read
  }
  return takeStep(id, step, before, data)
}

export async function removeVariant(id: string, key: string, before: FormState, data: FormData) {
  return change(id, (family) => withoutVariant(family, key), before, data)
}

export async function keepLink(id: string, before: FormState, data: FormData) {
  const step: Step = (family, typed) => {
    const read = linkFrom(typed, keysOf(family))
    return read.ok ? { ok: true, value: withLink(family, read.value) } : read
  }
  return takeStep(id, step, before, data)
}

const keysOf = (family: FamilyDraft) => family.weakPoints.map(({ key }) => key)

export async function removeWeakPoint(id: string, key: string, before: FormState, data: FormData) {
  return change(id, (family) => withoutWeakPoint(family, key), before, data)
}

export async function removeSign(id: string, key: string, before: FormState, data: FormData) {
  return change(id, (family) => withoutSign(family, key), before, data)
}

export async function removeLink(
  id: string,
  link: Pick<LinkDraft, 'from' | 'to'>,
  before: FormState,
  data: FormData,
) {
  return change(id, (family) => withoutLink(family, link), before, data)
}
