import type { Language } from './language'

/**
 * Messages are written in the common ICU syntax, so that a translator's tool can open the files:
 * `{name}`, `{n, plural, one {…} other {…}}`, `{n, selectordinal, …}`, `{sex, select, female {…} other {…}}`,
 * `#` for the number inside a plural, `''` for an apostrophe before a brace. That is the whole subset.
 * A value is put in as it is and never read as a message.
 */
export type MessageValues = Readonly<Record<string, string | number>>

/** Throws on a message that is malformed or that asks for a value it is not given: both are our own mistakes. */
export function formatMessage(message: string, values: MessageValues, language: Language): string {
  return new MessageReader(message, values, language).readUntilEnd()
}

/** The names a message asks for, sorted, each once; every branch is looked into. */
export function messageArguments(message: string): string[] {
  const names = new Set<string>()
  const recording = new Proxy<MessageValues>({}, { get: (_, name) => names.add(String(name)) && 2 })
  formatMessage(message, recording, 'en')
  return [...names].sort()
}

class MessageReader {
  private at = 0

  constructor(
    private readonly message: string,
    private readonly values: MessageValues,
    private readonly language: Language,
  ) {}

  readUntilEnd(): string {
    const text = this.readText(null)
    if (this.at < this.message.length) this.fail('a brace too many')
    return text
  }

  /** Reads up to the closing brace of the branch, or the end; `counted` is what `#` stands for. */
  private readText(counted: number | null): string {
    let text = ''
    while (this.at < this.message.length && this.message[this.at] !== '}') {
      const sign = this.message[this.at]
      if (sign === '{') text += this.readArgument(counted)
      else if (sign === '#' && counted !== null) text += this.take(1) && this.numberText(counted)
      else if (this.message.startsWith("''", this.at)) text += this.take(2) && "'"
      else text += this.take(1)
    }
    return text
  }

  private readArgument(counted: number | null): string {
    this.expect('{')
    const name = this.readWord()
    const value = this.values[name]
    if (value === undefined) this.fail(`no value for ${name}`)
    if (this.peek() === '}') {
      this.expect('}')
      return typeof value === 'number' ? this.numberText(value) : value
    }
    this.expect(',')
    const kind = this.readWord()
    this.expect(',')
    const branches = this.readBranches(kind === 'select' ? counted : Number(value))
    this.expect('}')
    return branches.get(this.branchFor(kind, value, branches)) ?? this.fail(`no branch for ${value}`)
  }

  private readBranches(counted: number | null): Map<string, string> {
    const branches = new Map<string, string>()
    while (this.peek() !== '}') {
      const key = this.readWord()
      this.expect('{')
      branches.set(key, this.readText(counted))
      this.expect('}')
    }
    return branches
  }

  private branchFor(kind: string, value: string | number, branches: Map<string, string>): string {
    if (branches.has(`=${value}`)) return `=${value}`
    if (kind === 'select') return branches.has(String(value)) ? String(value) : 'other'
    if (kind !== 'plural' && kind !== 'selectordinal') this.fail(`unknown kind ${kind}`)
    const rules = new Intl.PluralRules(this.language, { type: kind === 'plural' ? 'cardinal' : 'ordinal' })
    const category = rules.select(Number(value))
    return branches.has(category) ? category : 'other'
  }

  private numberText(value: number): string {
    return new Intl.NumberFormat(this.language).format(value)
  }

  private readWord(): string {
    this.skipSpace()
    const word = /^=?[a-zA-Z0-9-]+/.exec(this.message.slice(this.at))?.[0] ?? this.fail('a name is missing')
    this.at += word.length
    this.skipSpace()
    return word
  }

  private peek(): string | undefined {
    this.skipSpace()
    return this.message[this.at] ?? this.fail('it ends too early')
  }

  private expect(sign: string): void {
    this.skipSpace()
    if (this.take(1) !== sign) this.fail(`expected ${sign}`)
    if (sign === ',') this.skipSpace()
  }

  private skipSpace(): void {
    while (this.message[this.at] === ' ') this.at += 1
  }

  private take(count: number): string {
    const taken = this.message.slice(this.at, this.at + count)
    this.at += count
    return taken
  }

  private fail(reason: string): never {
    throw new Error(`message "${this.message}": ${reason}`)
  }
}
