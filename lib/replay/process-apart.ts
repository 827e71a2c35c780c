import { type ChildProcess, fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'

/**
 * A process that reckons for this one, which is not held up by it. It does one thing after the other; with so large a
 * nursery it takes a tenth less time than with half of it.
 */
export class ProcessApart<Told extends object, Answered> {
  private readonly child: ChildProcess

  /**
   * @param script what it runs, which answers by `process.send`
   * @param brokeOff what whoever asked is told where it ends without an answer; why stands in its last lines, which go
   *   where those of this process go
   * @param room megabytes: it ends where what it holds needs more than `most`; a small nursery saves room and costs time
   */
  constructor(
    script: URL,
    private readonly brokeOff: string,
    { most, nursery = 64 }: { most?: number; nursery?: number } = {},
  ) {
    const execArgv = [`--max-semi-space-size=${nursery}`, '--import', 'tsx']
    if (most !== undefined) execArgv.push(`--max-old-space-size=${most}`)
    this.child = fork(fileURLToPath(script), { serialization: 'advanced', execArgv })
    // Of one that cannot begin, or that ends while it is being told something, more than one error is heard; the first
    // is for whoever asked, and those after it are not to end this process.
    this.child.on('error', () => {})
  }

  tell(told: Told): void {
    this.child.send(told)
  }

  end(): void {
    this.child.kill('SIGKILL')
  }

  /** @param take is shown each answer, and makes the result of the last */
  ask<Result>(told: Told, take: (answered: Answered) => Result | null): Promise<Result> {
    return new Promise((resolve, reject) => {
      const { child } = this
      const settle = (act: () => void) => {
        child.off('exit', ended).off('error', failed).off('message', heard)
        act()
      }
      const failed = (cause?: Error) => settle(() => reject(new Error(this.brokeOff, { cause })))
      const ended = () => failed()
      const heard = (answered: Answered) => {
        const result = take(answered)
        if (result !== null) settle(() => resolve(result))
      }
      child.once('exit', ended).once('error', failed).on('message', heard)
      this.tell(told)
    })
  }
}
