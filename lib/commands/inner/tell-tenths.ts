import type { FitProgress } from '@/lib/scoring/fit-fleet'
import type { CommandIo } from './bad-argument'

/** Tells every tenth of the way: "scored 40 of 400 vehicles". */
export function tellTenths(what: string, io: CommandIo): (done: number, total: number) => void {
  let told = 0
  return (done, total) => {
    const tenths = Math.floor((10 * done) / Math.max(1, total))
    if (tenths > told || done === total) io.say(`${what} ${done} of ${total} vehicles`)
    told = tenths
  }
}

/** Tells how far learning is: each vehicle is followed more than once. */
export function tellFollowed(io: CommandIo): (progress: FitProgress) => void {
  const tell = tellTenths('followed', io)
  return ({ done, total }) => tell(done, total)
}
