import type { Webhook } from '@/lib/store/read/webhook'
import type { WebhookDelivery } from '@/lib/store/read/webhook-deliveries'
import type { Formats } from '../../ui/formats'
import { ChoiceField, KeptForm, TextField } from '../../ui/kept-form'
import styles from './settings.module.css'
import { changeWebhook, renewSecret, sendTest } from './webhook-actions'
import { deliveryWords, stateWords } from './webhook-words'

type Props = { webhook: Webhook | null; deliveries: WebhookDelivery[]; formats: Formats }

/** The address of the organisation's own that is told when a vehicle must not be driven. */
export function WebhookSection({ webhook, deliveries, formats }: Props) {
  return (
    <>
      <p className={styles.note}>
        When a vehicle must not be driven, a program of yours is told at once: which vehicle, which weak
        point, how likely it is to fail, and where to look. Nobody’s name is in it. What it does not take is
        tried again for three days; what it never takes stands above the stops. It does not take the place of
        a telephone call.
      </p>
      <KeptForm action={changeWebhook} submit="Keep">
        <TextField
          name="address"
          label="Address"
          hint="It gets a POST with JSON, signed as Standard Webhooks describes it."
          value={webhook?.address ?? ''}
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
        />
        <ChoiceField
          name="on"
          label="Tell it"
          value={webhook?.isOn === false ? 'no' : 'yes'}
          options={[
            { value: 'yes', label: 'on' },
            { value: 'no', label: 'off' },
          ]}
        />
      </KeptForm>
      {webhook && (
        <>
          <KeptForm action={sendTest} submit="Send a test" />
          <KeptForm action={renewSecret} submit="Make a new secret" />
          {webhook.formerUntil !== null && (
            <p className={styles.note}>
              The secret before the last one counts until {formats.moment(webhook.formerUntil)}.
            </p>
          )}
        </>
      )}
      {deliveries.length > 0 && <Deliveries {...{ deliveries, formats }} />}
    </>
  )
}

function Deliveries({ deliveries, formats }: Pick<Props, 'deliveries' | 'formats'>) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">What it was told last, the latest first</caption>
      <thead>
        <tr>
          <th scope="col">When</th>
          <th scope="col">What</th>
          <th scope="col">How it stands</th>
        </tr>
      </thead>
      <tbody>
        {deliveries.map((delivery) => (
          <tr key={delivery.id}>
            <th scope="row">{formats.moment(delivery.madeAt)}</th>
            <td>{deliveryWords(delivery)}</td>
            <td>{stateWords(delivery, formats)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
