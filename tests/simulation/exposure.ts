/**
 * How far a part has run beside a developing neighbour upstream, as an expectation, in the part's own clock and
 * with its duty: what confirmed defects did, plus the chance that the neighbour develops now times the distance
 * that it then has been doing so, less what stood there when the part's present life began.
 */
export class Exposure {
  private confirmed = 0
  private sinceOnset = 0
  private atStart = 0

  since(developing: number): number {
    return this.confirmed + developing * this.sinceOnset - this.atStart
  }

  /** A step of `length`: `old` is the developing mass that was there and remains, `fresh` what is new. */
  grow(old: number, fresh: number, length: number) {
    if (old + fresh === 0) return
    this.sinceOnset = (old * (this.sinceOnset + length) + (fresh * length) / 2) / (old + fresh)
  }

  /** The neighbour is renewed; `developing` after what was found. */
  close(developing: number) {
    this.confirmed += developing * this.sinceOnset
    this.sinceOnset = 0
  }

  /** The part itself is renewed. */
  restart(developing: number) {
    this.atStart = this.confirmed + developing * this.sinceOnset
  }
}
