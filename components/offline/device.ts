/** `offline`: no answer from the service. `sending`: what stands on this device is on its way. */
export type Connection = 'online' | 'sending' | 'offline'

export type Shown = {
  connection: Connection
  /** Somebody wants to sign in now. Nobody is asked by surprise: work goes on without. */
  isSigningIn: boolean
}

/**
 * What a page shows of its device and sends from it, whatever it keeps there: told to whoever listens, woken when the
 * connection or the person comes back, sent again later and later where the service does not answer. All pages of a
 * device see the same.
 */
export abstract class Device<State extends Shown> {
  protected state: State
  protected failures = 0
  protected pages: BroadcastChannel | undefined
  readonly #listeners = new Set<() => void>()
  readonly #name: string
  readonly #retryMs: readonly number[]
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor(name: string, nothing: State, retryMs: readonly number[]) {
    this.#name = name
    this.state = nothing
    this.#retryMs = retryMs
  }

  /** Reads what was kept. */
  protected abstract open(): Promise<void>
  /** Reads what other pages of this device have done. */
  protected abstract refresh(): Promise<void>
  /** Sends whatever can be sent, and again later where it could not. */
  abstract flush(): Promise<void>

  readonly subscribe = (listener: () => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  readonly getState = (): State => this.state

  /** Reads what was kept and begins to send. Returns how to end it. */
  readonly start = (): (() => void) => {
    const wake = () => void this.flush()
    window.addEventListener('online', wake)
    document.addEventListener('visibilitychange', wake)
    this.pages = new BroadcastChannel(this.#name)
    this.pages.onmessage = () => void this.refresh()
    void this.open().then(wake)
    return () => {
      window.removeEventListener('online', wake)
      document.removeEventListener('visibilitychange', wake)
      this.pages?.close()
      this.pages = undefined
      this.stopRetry()
    }
  }

  setSigningIn(isSigningIn: boolean): void {
    this.set({ isSigningIn } as Partial<State>)
  }

  protected stopRetry(): void {
    clearTimeout(this.#timer)
  }

  protected retryLater(): void {
    const waitMs = this.#retryMs[Math.min(this.failures, this.#retryMs.length - 1)]
    this.failures += 1
    this.set({ connection: 'offline' } as Partial<State>)
    this.stopRetry()
    this.#timer = setTimeout(() => void this.flush(), waitMs)
  }

  /** Only one page of the device sends at a time; where locks are missing (plain http) the service sorts it out. */
  protected underLock<T>(work: () => Promise<T>): Promise<T> {
    return navigator.locks ? navigator.locks.request(`${this.#name}-queue`, work) : work()
  }

  protected set(change: Partial<State>): void {
    this.state = { ...this.state, ...change }
    for (const listener of this.#listeners) listener()
  }
}
