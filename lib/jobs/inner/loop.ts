/** Work that is done again whenever it is woken, and at the latest after a while. */
export class Loop {
  private stopped = false
  private woken = false
  private rouse = () => {}

  /** @param work is told whether to stop each time that it asks */
  constructor(
    private readonly work: (isStopped: () => boolean) => Promise<void>,
    private readonly atLatestAfterMs: number,
  ) {}

  async run(): Promise<void> {
    while (!this.stopped) {
      this.woken = false
      await this.work(() => this.stopped)
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
      const timer = setTimeout(resolve, this.atLatestAfterMs)
      this.rouse = () => {
        clearTimeout(timer)
        resolve()
      }
    })
  }
}
