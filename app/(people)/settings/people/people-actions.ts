'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { postFrom } from '@/lib/jobs/post'
import { invite } from '@/lib/people/invitations'
import { invitationMail } from '@/lib/people/link-mail'
import type { PresentPerson } from '@/lib/people/session'
import { signMemberOut } from '@/lib/people/sign-member-out'
import { ROLES, type Role } from '@/lib/store/role'
import { withOrganisation } from '@/lib/store/with-organisation'
import { changeRole, type MembershipChange, removeMember } from '@/lib/store/write/change-membership'
import { withdrawInvitation } from '@/lib/store/write/invitation'
import { publicAddress } from '../../../public-address'
import { requirePerson } from '../../../require-person'
import { typedMail } from '../../../typed-account'
import { asked, done, type FormState, parseForm, refused } from '../../../ui/form-state'
import { INVITED, NOT_CHANGED, removeQuestion, SIGNED_OUT, signOutQuestion } from './people-words'

const role = z.enum(ROLES, 'Choose what they may do.')

/** Invites whoever reads an address; where no mail goes out, the link is shown this once. */
export async function invitePerson(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, organisationName, person } = await requirePerson('manage-people')
  const parsed = parseForm(z.object({ mail: typedMail, role }), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const asking = { ...parsed.value, by: person.id, now: new Date() }
  const invited = await withOrganisation(database, organisation, (scope) => invite(scope, asking), 'write')
  refresh()
  if (!invited.ok) return refused(before, data, [{ field: 'mail', message: INVITED.belongs }])
  const link = `${await publicAddress()}/invitation/${invited.key}`
  const sent = await mailed({ ...parsed.value, organisationName, person, link })
  const words = INVITED[sent](parsed.value.mail)
  return done(before, words, sent === 'mailed' ? {} : { once: link })
}

type ToMail = Pick<PresentPerson, 'organisationName' | 'person'> & { mail: string; role: Role; link: string }

async function mailed({ person, ...told }: ToMail): Promise<'mailed' | 'notMailed' | 'noMail'> {
  const post = postFrom(process.env)
  if (!post) return 'noMail'
  try {
    await post.send(invitationMail({ ...told, invitedBy: person.name }))
    return 'mailed'
  } catch {
    return 'notMailed' // the owner has the link, and can hand it over
  }
}

/** Withdraws an invitation that nobody has accepted. */
export async function withdrawInvited(data: FormData): Promise<void> {
  const { database, organisation } = await requirePerson('manage-people')
  const id = z.uuid().safeParse(data.get('id'))
  if (id.success)
    await withOrganisation(
      database,
      organisation,
      (scope) => withdrawInvitation(scope, { id: id.data, now: new Date() }),
      'write',
    )
  refresh()
}

const member = z.uuid()

/** Gives a member another role. */
export async function giveRole(id: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation } = await requirePerson('manage-people')
  const parsed = parseForm(z.object({ role }), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const given = { person: member.parse(id), role: parsed.value.role }
  const change = await withOrganisation(database, organisation, (scope) => changeRole(scope, given), 'write')
  return told(change, before, data, 'Changed: it holds at once.')
}

/** Removes a member, once that is meant. @param name as the page tells it */
export async function removePerson(
  id: string,
  name: string,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation } = await requirePerson('manage-people')
  const question = removeQuestion(String(name))
  if (data.get('sure') !== question.sure) return asked(before, data, question)
  const person = member.parse(id)
  const change = await withOrganisation(
    database,
    organisation,
    (scope) => removeMember(scope, person),
    'write',
  )
  return told(change, before, data, 'Removed.')
}

/** Ends every session of a member, once that is meant. @param name as the page tells it */
export async function signPersonOut(
  id: string,
  name: string,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('manage-people')
  const question = signOutQuestion(String(name))
  if (data.get('sure') !== question.sure) return asked(before, data, question)
  const ended = await signMemberOut(database, { organisation, person: member.parse(id), by: person.id })
  if (ended === null) return refused(before, data, [{ field: null, message: NOT_CHANGED['no-member'] }])
  return done(before, SIGNED_OUT(ended))
}

function told(change: MembershipChange, before: FormState, data: FormData, words: string): FormState {
  if (change !== 'changed') return refused(before, data, [{ field: null, message: NOT_CHANGED[change] }])
  refresh()
  return done(before, words)
}
