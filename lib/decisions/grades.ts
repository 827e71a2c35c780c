/** A reserve in words: what part of its value a vehicle is likely to cost. */
import { z } from 'zod'

const grade = z.object({
  word: z.string().min(1),
  /** The largest share of the value that it stands for; null: any. */
  upTo: z.number().positive().nullable(),
})
const grades = z
  .array(grade)
  .min(1)
  .refine(
    (all) => all.every(({ upTo }, i) => i === 0 || (upTo ?? Infinity) > (all[i - 1]!.upTo ?? Infinity)),
    {
      message: 'expected shares that rise, without a limit for the last at most',
    },
  )

export type Grade = z.output<typeof grade>

/** Where an organisation has said nothing. The shares are a convention of ours, without a source. */
export const USUAL_GRADES: readonly Grade[] = [
  { word: 'little', upTo: 0.05 },
  { word: 'some', upTo: 0.12 },
  { word: 'much', upTo: 0.25 },
  { word: 'very much', upTo: null },
]

/** An organisation's own grades, from `settings.grades`; the usual ones where it has none that can be read. */
export function gradesOf(said: unknown): readonly Grade[] {
  const read = grades.safeParse(said)
  return read.success ? read.data : USUAL_GRADES
}

/**
 * The word for an amount set aside.
 *
 * @returns null where the value is not known, or no grade goes so far
 */
export function gradeOf(amount: number, value: number | null, all: readonly Grade[]): string | null {
  if (value === null || !(value > 0)) return null
  return all.find(({ upTo }) => upTo === null || amount <= upTo * value)?.word ?? null
}
