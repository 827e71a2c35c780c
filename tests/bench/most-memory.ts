import { readdirSync, readFileSync } from 'node:fs'

const MS_BETWEEN_LOOKS = 100
const KIB_PER_MIB = 1024

/** The most memory that processes of a script have held at once, each as Linux counts it (`VmHWM`). */
export class MostMemory {
  private most = 0
  private readonly timer: NodeJS.Timeout

  constructor(private readonly script: string) {
    this.timer = setInterval(() => this.look(), MS_BETWEEN_LOOKS)
  }

  private look(): void {
    for (const id of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
      if (!textOf(`/proc/${id}/cmdline`).includes(this.script)) continue
      const [, kib] = /VmHWM:\s+(\d+)/.exec(textOf(`/proc/${id}/status`)) ?? []
      this.most = Math.max(this.most, Number(kib ?? 0) / KIB_PER_MIB)
    }
  }

  /** @returns MiB */
  stop(): number {
    clearInterval(this.timer)
    return this.most
  }
}

/** Blank for a process that has ended meanwhile. */
function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8')
  } catch {
    return ''
  }
}
