/** The database tells of work; this finds what was not heard of, and the day that begins. */
const LOOK_EVERY_MS = 15_000

/** Work that is done again whenever it is woken, and at the latest after a while. */
export class Loop {
  private stopped = false
  private woken = false
  private rouse = () => {}

  constructor(private readonly work: () => Promise<void>) {}

  async run(): Promise<void> {
    while (!this.stopped) {
      this.woken = false
      await this.work()
      if (!this.woken && !this.stopped) await this.rest()
    }
  }

  wake(): void {
    this.woken = true
    this.rouse()
  }

  stop(): void {
    this.stopped = true
    this.rouse()
  }

  private rest(): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, LOOK_EVERY_MS)
      this.rouse = () => {
        clearTimeout(timer)
        resolve()
      }
    })
  }
}
