import { mebibytesOf, processIds, toldOf } from './processes'

const MS_BETWEEN_LOOKS = 100

/** The most memory that processes of a script have held at once, each as Linux counts it (`VmHWM`). */
export class MostMemory {
  private most = 0
  private readonly timer: NodeJS.Timeout

  constructor(private readonly script: string) {
    this.timer = setInterval(() => this.look(), MS_BETWEEN_LOOKS)
  }

  private look(): void {
    for (const id of processIds())
      if (toldOf(id, 'cmdline').includes(this.script))
        this.most = Math.max(this.most, mebibytesOf(id, 'VmHWM'))
  }

  /** @returns MiB */
  stop(): number {
    clearInterval(this.timer)
    return this.most
  }
}
