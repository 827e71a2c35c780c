import type { PartStock } from '@/lib/records/part-stock'
import { formatDay } from '@/lib/units/dates'
import { KeptForm, TextField } from '../../ui/kept-form'
import { keepPart } from './actions'
import styles from './parts.module.css'

/** What is said of a part, all of it, to be changed in place. */
export function StockForm({ stock }: { stock: PartStock }) {
  const text = (value: number | null) => (value === null ? '' : String(value))
  const whole = { inputMode: 'numeric' as const, autoComplete: 'off' }
  return (
    <KeptForm action={keepPart} submit="Keep">
      <input type="hidden" name="part" value={stock.part} />
      <div className={styles.fields}>
        <TextField {...whole} name="on_hand" label="On hand" value={text(stock.onHand)} />
        <TextField {...whole} name="on_order" label="On order" value={text(stock.onOrder)} />
        <TextField
          name="due_on"
          label="Comes on"
          type="date"
          value={stock.dueOn === null ? '' : formatDay(stock.dueOn)}
        />
        <TextField {...whole} name="lead_days" label="Days from order to here" value={text(stock.leadDays)} />
        <TextField name="price" label="Price of one" inputMode="decimal" value={text(stock.price)} />
        <TextField name="supplier" label="Supplier" value={stock.supplier ?? ''} />
      </div>
    </KeptForm>
  )
}
