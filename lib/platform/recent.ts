/**
 * The last few results of something costly, by key. Only ever a head start: whoever takes one has to prove that it
 * still holds, so a process that has none, or another one, answers the same.
 */
export class Recent<Value> {
  private readonly values = new Map<string, Value>()

  constructor(private readonly most: number) {}

  get(key: string): Value | undefined {
    return this.values.get(key)
  }

  set(key: string, value: Value): void {
    this.values.delete(key)
    this.values.set(key, value)
    const oldest = this.values.keys().next()
    if (this.values.size > this.most && !oldest.done) this.values.delete(oldest.value)
  }
}
