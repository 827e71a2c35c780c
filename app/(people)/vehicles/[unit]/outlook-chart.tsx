import type { OutlookPoint } from '@/lib/jobs/vehicle-outlook'
import type { VehicleComponent } from '@/lib/store/read/vehicle-components'
import { chanceInBand, frequency } from '../../../ui/chance-words'
import { ticksUpTo } from '../../../ui/charts/axis-ticks'
import { BandChart } from '../../../ui/charts/band-chart'
import { ChartFigure } from '../../../ui/charts/figure'
import type { Formats } from '../../../ui/formats'
import { placeWords } from '../../../ui/words'

type Props = { component: VehicleComponent; outlook: OutlookPoint[]; formats: Formats }

const MONTHS = [0, 3, 6, 9, 12]

/** The chance over the coming months, with its band. */
export function OutlookChart({ component, outlook, formats }: Props) {
  const last = outlook.at(-1)
  if (!last) return null
  const name = [component.name, placeWords(component.place, component.position)].filter(Boolean).join(', ')
  const percent = (share: number) => (share === 0 ? '0' : `${formats.decimal(share * 100)} in 100`)
  return (
    <ChartFigure
      finding={outlookSentence(name, outlook, formats)}
      caption={`${name}: chance that it fails, by month`}
      headings={['Within', 'Chance', 'Between']}
      rows={outlook.map(({ months, pFail, pLow, pHigh }) => ({
        key: String(months),
        cells: [
          monthsWords(months),
          <data key="chance" value={pFail}>
            {frequency(pFail, formats.count)}
          </data>,
          `${frequency(pLow, formats.count)} and ${frequency(pHigh, formats.count)}`,
        ],
      }))}
    >
      <BandChart
        points={outlook.map(({ months, pFail, pLow, pHigh }) => ({
          at: months,
          value: pFail,
          low: pLow,
          high: pHigh,
        }))}
        across={MONTHS.map((at) => ({ at, label: at === 0 ? 'today' : monthsWords(at) }))}
        up={ticksUpTo(last.pHigh, percent)}
      />
    </ChartFigure>
  )
}

const monthsWords = (months: number) => (months === 1 ? '1 month' : `${months} months`)

/** The finding: how the chance grows from the first month to the last. */
function outlookSentence(name: string, outlook: OutlookPoint[], formats: Formats): string {
  const [first, last] = [outlook[0], outlook.at(-1)]
  if (!first || !last) return ''
  const within = ({ months, ...chance }: OutlookPoint) =>
    `${chanceInBand(chance, formats.count)} within ${monthsWords(months)}`
  return `${name}: if nothing is done, it fails with a chance of ${within(first)}, and of ${within(last)}.`
}
