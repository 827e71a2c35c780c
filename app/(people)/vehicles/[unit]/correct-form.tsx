import { rowObject } from '@/lib/intake/row-object'
import { TABLES } from '@/lib/intake/tables'
import type { VehicleRecord } from '@/lib/store/read/vehicle-records'
import { KeptForm, TextField } from '../../../ui/kept-form'
import { correctEntry } from './correct-actions'
import styles from './vehicle.module.css'

/** A record as its columns, each as it stands in a file: whatever is wrong in it can be put right. */
export function CorrectForm({ record: { kind, id, row } }: { record: VehicleRecord }) {
  const cells = rowObject(kind, row)
  return (
    <KeptForm action={correctEntry.bind(null, row.unit, kind, id)} submit="Correct it">
      {Object.entries(row.notes).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <div className={styles.columns}>
        {Object.entries(TABLES[kind].shape).map(([column, schema]) => (
          <TextField
            key={column}
            name={column}
            label={column.replaceAll('_', ' ')}
            hint={schema.meta()?.description}
            value={cellWords(cells[column])}
            autoComplete="off"
          />
        ))}
      </div>
    </KeptForm>
  )
}

function cellWords(value: unknown): string {
  if (value === null || value === undefined) return ''
  if (Array.isArray(value)) return value.join(' ')
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return String(value)
}
