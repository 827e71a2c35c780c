import type { Terms } from '@/lib/store/read/terms'
import type { Day } from '@/lib/units/dates'
import { milesFromKm } from '@/lib/units/distances'

const MS_PER_DAY = 86_400_000

/** How an organisation writes numbers: its locale, its currency, the distance unit that was chosen. */
export type Formats = ReturnType<typeof formatsFor>

export function formatsFor(
  {
    locale,
    currency,
    timeZone = 'UTC',
  }: Pick<Terms, 'locale' | 'currency'> & Partial<Pick<Terms, 'timeZone'>>,
  unit: 'km' | 'mi',
) {
  const whole = new Intl.NumberFormat(locale, { maximumFractionDigits: 0 })
  const tenths = new Intl.NumberFormat(locale, { maximumFractionDigits: 1 })
  const decimal = new Intl.NumberFormat(locale, { maximumSignificantDigits: 2 })
  const precise = new Intl.NumberFormat(locale, { maximumSignificantDigits: 3 })
  const percent = new Intl.NumberFormat(locale, { style: 'percent', maximumSignificantDigits: 2 })
  const exact = new Intl.NumberFormat(locale, { ...money(currency), maximumFractionDigits: 0 })
  const rough = new Intl.NumberFormat(locale, { ...money(currency), maximumSignificantDigits: 2 })
  const lengthUnit = unit === 'km' ? 'kilometer' : 'mile'
  const length = new Intl.NumberFormat(locale, { style: 'unit', unit: lengthUnit, maximumFractionDigits: 0 })
  const inUnit = (km: number) => (unit === 'km' ? km : milesFromKm(km))
  const hundredths = { style: 'percent', minimumFractionDigits: 2, maximumFractionDigits: 2 } as const
  const chance = new Intl.NumberFormat(locale, hundredths)
  const change = new Intl.NumberFormat(locale, { ...hundredths, signDisplay: 'exceptZero' })
  const all = { maximumFractionDigits: 12 }
  const allFigures = new Intl.NumberFormat(locale, all)
  const allShare = new Intl.NumberFormat(locale, { style: 'percent', ...all })
  const allMoney = new Intl.NumberFormat(locale, { ...money(currency), ...all })
  const allLength = new Intl.NumberFormat(locale, { style: 'unit', unit: lengthUnit, ...all })
  const date = (options: Intl.DateTimeFormatOptions) => {
    const format = new Intl.DateTimeFormat(locale, { ...options, timeZone: 'UTC' }) // a day has no zone of its own
    return (day: Day) => format.format(day * MS_PER_DAY)
  }
  const instant = new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeStyle: 'short', timeZone })
  return {
    count: (count: number) => whole.format(count),
    decimal: (number: number) => decimal.format(number),
    tally: (number: number) => (number < 10 ? tenths : whole).format(number),
    precise: (number: number) => precise.format(number),
    share: (share: number) => percent.format(share),
    percent: (part: number) => chance.format(part),
    signedPercent: (part: number) => change.format(part),
    distance: (km: number) => length.format(inUnit(km)),
    money: (amount: number) => exact.format(amount),
    roughMoney: (amount: number) => rough.format(amount),
    /** With every figure, for what would look the same when rounded. */
    exact: {
      number: (number: number) => allFigures.format(number),
      share: (share: number) => allShare.format(share),
      money: (amount: number) => allMoney.format(amount),
      distance: (km: number) => allLength.format(inUnit(km)),
    },
    day: date({ day: 'numeric', month: 'short', year: 'numeric' }),
    month: date({ month: 'short', year: 'numeric' }),
    moment: (at: Date) => instant.format(at),
    longDay: date({ weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' }),
  }
}

function money(currency: string | null): Intl.NumberFormatOptions {
  return currency ? { style: 'currency', currency } : {}
}
