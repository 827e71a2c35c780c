import { rowObject } from '@/lib/intake/row-object'
import { neededColumns, TABLES } from '@/lib/intake/tables'
import type { VehicleRecord } from '@/lib/store/read/vehicle-records'
import { KeptForm, SelectField, TextField } from '../../../ui/kept-form'
import {
  ACTIONS,
  BECAUSE,
  CHANGES,
  CODE_STATES,
  FOUND,
  LOOKS,
  PAID_BY,
  RECORD_FIELDS,
} from '../../../ui/record-words'
import { correctEntry } from './correct-actions'
import styles from './vehicle.module.css'

/** The columns that hold one of a few words, and what people read for each. */
const CHOICES: Record<VehicleRecord['kind'], Record<string, Record<string, string>>> = {
  readings: {},
  codes: { state: CODE_STATES, lamp: { yes: 'yes', no: 'no' } },
  checks: { kind: LOOKS },
  repairs: { action: ACTIONS, found: FOUND, because: BECAUSE, paid_by: PAID_BY },
  changes: { kind: CHANGES },
}

const MOVES = 'The number of another vehicle moves the record there.'

/** A record with all that it keeps: whatever is wrong in it can be put right. */
export function CorrectForm({ record: { kind, id, row } }: { record: VehicleRecord }) {
  const cells = rowObject(kind, row)
  return (
    <KeptForm action={correctEntry.bind(null, row.unit, kind, id)} submit="Correct it">
      {Object.entries(row.notes).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <div className={styles.columns}>
        {Object.entries(TABLES[kind].shape).map(([column, schema]) => (
          <Cell
            key={column}
            {...{ kind, column, hint: column === 'unit' ? MOVES : schema.meta()?.description }}
            value={cellWords(cells[column])}
          />
        ))}
      </div>
    </KeptForm>
  )
}

type CellProps = {
  kind: VehicleRecord['kind']
  column: string
  hint: string | undefined
  value: string
}

function Cell({ kind, column, hint, value }: CellProps) {
  const told = { name: column, label: RECORD_FIELDS[column] ?? column, value }
  const words = CHOICES[kind][column]
  if (words === undefined) return <TextField {...told} hint={hint} autoComplete="off" />
  const options = Object.entries(words).map(([value, label]) => ({ value, label }))
  const blank = neededColumns(TABLES[kind]).includes(column) ? [] : [{ value: '', label: 'not known' }]
  return <SelectField {...told} options={[...blank, ...options]} />
}

function cellWords(value: unknown): string {
  if (value === null || value === undefined) return ''
  if (Array.isArray(value)) return value.join(' ')
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return String(value)
}
