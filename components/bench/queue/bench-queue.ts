import type { Connection } from '../bench-head'
import { type Entry, inOrder } from './entry'
import { listSendable, sendOperations, settleEntries } from './send'
import { type BenchStore, openBenchStore } from './store'

export type QueueState = {
  /** Null until what the device has kept is read. */
  entries: readonly Entry[] | null
  connection: Connection
  isSignedOut: boolean
  /** False where the browser keeps nothing: then the page must stay open until all is sent. */
  isLasting: boolean
}

const RETRY_MS = [1_000, 2_000, 4_000, 8_000, 15_000, 30_000]

/** Only one page of the device sends at a time; where locks are missing (plain http) the service sorts it out. */
function underLock<T>(work: () => Promise<T>): Promise<T> {
  return navigator.locks ? navigator.locks.request('bench-queue', work) : work()
}

/**
 * The taps of this device: shown the moment they are tapped, kept on disk, sent in order, and off the list of
 * waiting ones only when the service has said what became of them.
 */
export class BenchQueue {
  state: QueueState = { entries: null, connection: 'online', isSignedOut: false, isLasting: true }
  #listeners = new Set<() => void>()
  #store: Promise<BenchStore> | undefined
  #isFlushing = false
  #failures = 0
  #timer: ReturnType<typeof setTimeout> | undefined
  readonly #personId: string

  constructor(personId: string) {
    this.#personId = personId
  }

  readonly subscribe = (listener: () => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  readonly getState = (): QueueState => this.state

  /** Reads what was kept and begins to send. Returns how to end it. */
  start(): () => void {
    const wake = () => void this.flush()
    window.addEventListener('online', wake)
    void this.#open().then(wake)
    return () => {
      window.removeEventListener('online', wake)
      clearTimeout(this.#timer)
    }
  }

  /** Counts at once; keeping and sending follow in their own time. */
  add(entry: Omit<Entry, 'order'>): void {
    const last = this.state.entries?.at(-1)?.order ?? 0
    void this.change([{ ...entry, order: Math.max(Math.floor(last) + 1, Date.now()) }])
  }

  async change(changed: readonly Entry[]): Promise<void> {
    await this.#put(changed)
    await this.flush()
  }

  /** The keeper signs in later: counting goes on, and the next tap asks again. */
  pause(): void {
    this.#set({ isSignedOut: false, connection: 'offline' })
  }

  /** Sends whatever can be sent, and again later where it could not. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer)
    if (this.#isFlushing || this.state.entries === null) return
    this.#isFlushing = true
    const outcome = await underLock(() => this.#sendAll()).finally(() => {
      this.#isFlushing = false
    })
    if (outcome === 'again') return this.#retryLater()
    this.#failures = 0
    this.#set({ connection: this.state.isSignedOut ? 'offline' : 'online' })
    // Tapped in the moment between the last answer and here.
    if (!this.state.isSignedOut && listSendable(this.state.entries ?? [], this.#personId).length > 0)
      await this.flush()
  }

  #retryLater(): void {
    const waitMs = RETRY_MS[Math.min(this.#failures, RETRY_MS.length - 1)]
    this.#failures += 1
    this.#set({ connection: 'offline' })
    this.#timer = setTimeout(() => void this.flush(), waitMs)
  }

  async #sendAll(): Promise<'done' | 'again'> {
    for (;;) {
      const batch = listSendable(this.state.entries ?? [], this.#personId)
      if (batch.length === 0) return 'done'
      this.#set({ connection: this.#failures > 0 ? 'offline' : 'sending' })
      const sending = await sendOperations(batch.map(({ operation }) => operation))
      this.#set({ isSignedOut: sending.kind === 'signed-out' })
      if (sending.kind === 'signed-out') return 'done'
      if (sending.kind !== 'answered') return 'again'
      const settled = settleEntries(batch, sending.answers)
      if (settled.length === 0) return 'again'
      this.#failures = 0
      await this.#put(settled)
    }
  }

  async #open(): Promise<void> {
    this.#store ??= openBenchStore()
    const store = await this.#store
    const kept = await store.list()
    const finished = new Set(
      kept.flatMap(({ run, state, tap }) => (tap.kind === 'finish' && state === 'sent' ? [run] : [])),
    )
    const over = kept.filter(({ run, state }) => finished.has(run) && state === 'sent')
    await store.remove(over.map(({ operation }) => operation.id))
    const known = new Set((this.state.entries ?? []).map(({ operation }) => operation.id))
    this.#merge(kept.filter((entry) => !over.includes(entry) && !known.has(entry.operation.id)))
    this.#set({ isLasting: store.isLasting })
  }

  async #put(changed: readonly Entry[]): Promise<void> {
    this.#merge(changed)
    this.#store ??= openBenchStore()
    try {
      await (await this.#store).put(changed)
    } catch {
      // A full disk: the entries are still here and are sent, and the screen says that the page must stay open.
      this.#set({ isLasting: false })
    }
  }

  #merge(changed: readonly Entry[]): void {
    const ids = new Set(changed.map(({ operation }) => operation.id))
    const others = (this.state.entries ?? []).filter(({ operation }) => !ids.has(operation.id))
    this.#set({ entries: inOrder([...others, ...changed]) })
  }

  #set(change: Partial<QueueState>): void {
    this.state = { ...this.state, ...change }
    for (const listener of this.#listeners) listener()
  }
}
