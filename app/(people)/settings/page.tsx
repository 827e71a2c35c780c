import type { Metadata } from 'next'
import { can } from '@/lib/people/permissions'
import { readDigestWish, readUnsentDigests } from '@/lib/store/read/digest-wishes'
import { readMembers } from '@/lib/store/read/members'
import { readSettings } from '@/lib/store/read/settings'
import { readTerms } from '@/lib/store/read/terms'
import { readTokens } from '@/lib/store/read/tokens'
import { readWebhook } from '@/lib/store/read/webhook'
import { readWebhookDeliveries } from '@/lib/store/read/webhook-deliveries'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { DigestForm } from './digest-form'
import { GradesForm } from './grades-form'
import { LetterTermsForm } from './letter-terms-form'
import { Members } from './members'
import styles from './settings.module.css'
import { TermsForm } from './terms-form'
import { TermsList } from './terms-list'
import { Tokens } from './tokens'
import { WebhookSection } from './webhook-section'
import { WEBHOOK_TITLE } from './webhook-words'

export const metadata: Metadata = { title: PAGE_NAMES.settings }

/** What the organisation is told in, who belongs to it, and which machines speak for it. */
export default async function SettingsPage() {
  const { database, organisation, role, person } = await requirePerson()
  const { terms, settings, members, tokens, wish, unsent, telling } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({
      terms: await readTerms(scope),
      settings: await readSettings(scope),
      members: await readMembers(scope),
      wish: await readDigestWish(scope, person.id),
      unsent: can(role, 'edit-terms') ? await readUnsentDigests(scope) : null,
      tokens: can(role, 'manage-tokens') ? await readTokens(scope) : null,
      telling: can(role, 'manage-webhook')
        ? { webhook: await readWebhook(scope), deliveries: await readWebhookDeliveries(scope) }
        : null,
    }),
  )
  const formats = formatsFor(terms, terms.distance)
  return (
    <Frame here="settings" asOf={null} choices={[]}>
      <h1 className={styles.title}>{PAGE_NAMES.settings}</h1>
      <div className={styles.sections}>
        <section aria-labelledby="terms">
          <h2 id="terms">Terms</h2>
          {can(role, 'edit-terms') ? (
            <TermsForm terms={terms} settings={settings} />
          ) : (
            <TermsList terms={terms} />
          )}
        </section>
        {can(role, 'edit-terms') && (
          <section aria-labelledby="letters">
            <h2 id="letters">Calls and letters</h2>
            <LetterTermsForm settings={settings} currency={terms.currency} />
          </section>
        )}
        {can(role, 'edit-terms') && (
          <section aria-labelledby="grades">
            <h2 id="grades">Words for what is set aside</h2>
            <GradesForm settings={settings} />
          </section>
        )}
        <section aria-labelledby="mail">
          <h2 id="mail">The week by mail</h2>
          <DigestForm
            mail={members.find(({ id }) => id === person.id)?.mail ?? null}
            timeZone={terms.timeZone}
            {...{ wish, unsent, formats }}
          />
        </section>
        <section aria-labelledby="people">
          <h2 id="people">People</h2>
          <Members members={members} />
          {can(role, 'manage-people') && (
            <p className={styles.below}>
              <Link href="/settings/people">Invite somebody, change a role, remove somebody</Link>
            </p>
          )}
        </section>
        {tokens && (
          <section aria-labelledby="tokens">
            <h2 id="tokens">Tokens for machines</h2>
            <Tokens tokens={tokens} formats={formats} />
          </section>
        )}
        {telling && (
          <section aria-labelledby="webhook">
            <h2 id="webhook">{WEBHOOK_TITLE}</h2>
            <WebhookSection {...telling} formats={formats} />
          </section>
        )}
      </div>
    </Frame>
  )
}
