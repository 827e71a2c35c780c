/** Answers that took long to find, kept in this process under what they rest on: the last ones that were asked for. */
export class LastAsked<Answer> {
  private readonly kept = new Map<string, Answer>()

  /** @param most so many are kept */
  constructor(private readonly most: number) {}

  /** @returns undefined for one that is not kept */
  get(key: string): Answer | undefined {
    const answer = this.kept.get(key)
    return answer === undefined ? undefined : this.keep(key, answer)
  }

  /** Keeps an answer, and lets the one go that was not asked for longest. */
  keep(key: string, answer: Answer): Answer {
    this.kept.delete(key)
    this.kept.set(key, answer)
    const [longestAgo] = this.kept.keys()
    if (this.kept.size > this.most && longestAgo !== undefined) this.kept.delete(longestAgo)
    return answer
  }
}
