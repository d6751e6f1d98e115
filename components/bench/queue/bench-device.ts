import type { BenchWho } from '@/lib/features/bench/schema'
import type { Asked } from '../../offline/ask'
import { Device, type Shown } from '../../offline/device'
import { askRun, askStanding, askWho } from './ask-run'
import { type Entry, inOrder, isUnsent, type KeptRun } from './entry'
import { forgetting } from './leaving'
import { isNotJudged, listSendable, sendOperations, settleEntries } from './send'
import { type Change, type DeviceStore, type Kept, openDeviceStore } from './store'

export type DeviceState = Shown & {
  /** Null until what the device has kept is read. */
  entries: readonly Entry[] | null
  runs: readonly KeptRun[]
  /** Who is signed in, or was when the service was last asked. */
  who: BenchWho | null
  isSignedOut: boolean
  /** False where the browser keeps nothing: then the page must stay open until all is sent. */
  isLasting: boolean
}

export const NOTHING_READ: DeviceState = {
  entries: null,
  runs: [],
  who: null,
  isSignedOut: false,
  isSigningIn: false,
  connection: 'online',
  isLasting: true,
}

const RETRY_MS = [1_000, 2_000, 4_000, 8_000, 15_000, 30_000]

type Sent = 'nothing' | 'all' | 'again' | 'signed-out'

/**
 * The taps of this device: shown the moment they are tapped, kept on disk, sent in order, and off the list of
 * waiting ones only when the service has said what became of them. All pages of a device see the same.
 */
export class BenchDevice extends Device<DeviceState> {
  #store: Promise<DeviceStore> | undefined
  #writing: Promise<void> = Promise.resolve()
  #changes = 0
  #isWhoKnown = false
  /** Signed out elsewhere: on disk is only what was not sent; what is on the screen stays in memory. */
  #hasForgotten = false
  #isFlushing = false

  constructor() {
    super('bench', NOTHING_READ, RETRY_MS)
  }

  /** Counts at once; keeping and sending follow in their own time. */
  add(entry: Omit<Entry, 'order'>): void {
    const last = this.state.entries?.at(-1)?.order ?? 0
    void this.change([{ ...entry, order: Math.max(Math.floor(last) + 1, Date.now()) }])
  }

  async change(put: readonly Entry[]): Promise<void> {
    await this.#apply({ put })
    await this.flush()
  }

  /**
   * Fetches a run, so that this device can go on with it alone. Taps of it that are on this device already, because
   * somebody else was signed in meanwhile, are sent first: the answer holds them, and they must not count twice.
   */
  async openRun(wanted: { workspaceId: string; run: string; moults?: number }): Promise<Asked<KeptRun>> {
    await this.flush()
    return this.underLock(async () => {
      await this.refresh()
      const asked = await askRun(wanted)
      if (asked.kind === 'signed-out') await this.#setSignedOut()
      if (asked.kind !== 'answered') return asked
      const { run, person, likelyMoults } = asked.value
      const had = this.state.runs.find((each) => each.run.id === run.id && each.person.id === person.id)
      const own = (this.state.entries ?? []).filter((entry) => entry.run === run.id)
      // Not sent for good or bad: it may have arrived all the same, so that what was known before stands until it is.
      if (had && own.some(isUnsent)) return { kind: 'answered', value: had } as const
      const moults = wanted.moults ?? likelyMoults
      const value = { ...asked.value, moults, ...(had && pickUnsaid(had)) }
      await this.#apply({ put: markIncluded(own), putRuns: [value] })
      return { kind: 'answered', value } as const
    })
  }

  /** What the keeper says of a run, for this device alone. */
  async keepRun(kept: KeptRun): Promise<void> {
    await this.#apply({ putRuns: [kept] })
  }

  /** Somebody has signed in on top of the page: perhaps who was here before, perhaps somebody else. */
  async signedIn(): Promise<void> {
    this.#isWhoKnown = false
    this.set({ isSignedOut: false, isSigningIn: false })
    await this.flush()
  }

  /** Sends whatever can be sent, and again later where it could not. */
  async flush(): Promise<void> {
    this.stopRetry()
    if (this.#isFlushing || this.state.entries === null) return
    this.#isFlushing = true
    const outcome = await this.underLock(() => this.#sendAll()).finally(() => {
      this.#isFlushing = false
    })
    if (outcome === 'again') return this.retryLater()
    this.failures = 0
    const isSignedOut = outcome === 'signed-out'
    this.set({ isSignedOut, connection: isSignedOut ? 'offline' : 'online' })
    if (isSignedOut) await this.#setSignedOut()
    // Tapped in the moment between the last answer and here.
    if (outcome !== 'signed-out' && this.#listSendable().length > 0) await this.flush()
  }

  /** Asks how a run stands, since others may count at the same clutch. What has arrived is part of the answer. */
  async lookAgain({ run, person }: KeptRun): Promise<void> {
    if (this.#isFlushing || this.state.isSignedOut) return
    await this.underLock(async () => {
      await this.refresh()
      const find = () =>
        this.state.runs.find((each) => each.run.id === run.id && each.person.id === person.id)
      const kept = find()
      if (!kept) return
      const own = (this.state.entries ?? []).filter((entry) => entry.run === run.id)
      // An entry whose answer was lost may have arrived: it would count twice until it is sent again.
      if (own.some(isUnsent)) return
      const arrived = own.filter(({ tap }) => !tap.isIncluded)
      const asked = await askStanding({
        workspaceId: kept.workspace.id,
        run: run.id,
        known: arrived.length > 0 ? undefined : kept.standing,
      })
      await this.#notice(asked.kind)
      if (asked.kind !== 'answered' || asked.value.standing === null) return
      // The counter may have been touched while the answer was on its way.
      const present = find() ?? kept
      await this.#apply({
        put: markIncluded(arrived),
        putRuns: [{ ...present, standing: asked.value.standing }],
      })
    })
  }

  /**
   * A lost device is signed out from another one: from then on its disk holds nothing but what was not sent. Whoever
   * counts at it goes on, and what is tapped now is kept again with its run.
   */
  async #setSignedOut(): Promise<void> {
    this.set({ isSignedOut: true })
    if (this.#hasForgotten) return
    this.#hasForgotten = true
    const store = this.#store
    this.#writing = this.#writing.then(async () => {
      const open = await store
      if (open) await open.write(forgetting(await open.read()))
    })
    await this.#writing.catch(() => this.set({ isLasting: false }))
  }

  async #notice(kind: Asked<unknown>['kind']): Promise<void> {
    if (kind === 'signed-out') await this.#setSignedOut()
    if (kind === 'answered') this.set({ connection: 'online' })
    if (kind === 'offline') this.retryLater()
  }

  #listSendable(): Entry[] {
    return listSendable(this.state.entries ?? [], this.state.who)
  }

  async #sendAll(): Promise<Sent> {
    await this.refresh()
    // Somebody may have signed in on another page of this device.
    if (this.state.isSignedOut) this.#isWhoKnown = false
    let sent: Sent = 'nothing'
    for (;;) {
      const met = await this.#learnWho()
      if (met !== 'known') return met
      const batch = this.#listSendable()
      if (batch.length === 0) return sent
      this.set({ connection: this.failures > 0 ? 'offline' : 'sending' })
      const asked = await sendOperations(batch.map(({ operation }) => operation))
      if (asked.kind === 'signed-out') return 'signed-out'
      if (asked.kind !== 'answered') return 'again'
      if (asked.value.some(isNotJudged)) this.#isWhoKnown = false
      const put = settleEntries(batch, asked.value)
      if (put.length === 0 && this.#isWhoKnown) return 'again'
      this.failures = 0
      sent = 'all'
      await this.#apply({ put })
    }
  }

  /** Who is signed in: asked once, and again when the service does not take what is sent under that name. */
  async #learnWho(): Promise<'known' | 'again' | 'signed-out'> {
    if (this.#isWhoKnown) return 'known'
    const asked = await askWho()
    if (asked.kind === 'signed-out') return 'signed-out'
    if (asked.kind !== 'answered') return 'again'
    this.#isWhoKnown = true
    const back = this.#hasForgotten ? this.#listOwn(asked.value) : {}
    this.#hasForgotten = false
    await this.#apply({ who: asked.value, ...back })
    return 'known'
  }

  /** What is on the screen of who has signed in again goes back to disk; what is of others does not. */
  #listOwn({ person }: BenchWho): Change {
    return {
      put: (this.state.entries ?? []).filter(({ operation }) => operation.personId === person.id),
      putRuns: this.state.runs.filter((run) => run.person.id === person.id),
    }
  }

  /** While signed out an entry is kept with its run, and with the entries its count rests on. */
  #withRuns(change: Change): Change {
    const { put = [], putRuns = [] } = change
    const runs = new Set(put.map(({ run }) => run))
    const changed = new Set(put.map(({ operation }) => operation.id))
    const beside = (this.state.entries ?? []).filter(
      ({ run, operation }) => runs.has(run) && !changed.has(operation.id),
    )
    const known = new Set(putRuns.map(({ run }) => run.id))
    const kept = this.state.runs.filter(({ run }) => runs.has(run.id) && !known.has(run.id))
    return { ...change, put: [...beside, ...put], putRuns: [...putRuns, ...kept] }
  }

  protected async open(): Promise<void> {
    this.#store ??= openDeviceStore()
    const store = await this.#store
    const kept = await store.read()
    this.#take(kept)
    this.set({ isLasting: store.isLasting, entries: this.state.entries ?? [] })
    const over = listOver(kept)
    await this.#apply({ remove: over.entries.map(({ operation }) => operation.id), removeRuns: over.runs })
  }

  /** What other pages of this device have done. Skipped while this one is changing something itself. */
  protected async refresh(): Promise<void> {
    const store = await this.#store
    if (!store || !this.state.isLasting) return
    await this.#writing
    const before = this.#changes
    const kept = await store.read()
    if (before === this.#changes) this.#take(kept)
  }

  #take({ entries, runs, who }: Kept): void {
    this.#merge({ put: entries, putRuns: runs, ...(who ? { who } : {}) })
  }

  /** Seen at once, on disk a moment later. */
  async #apply(asked: Change): Promise<void> {
    const change = this.#hasForgotten && asked.put ? this.#withRuns(asked) : asked
    this.#changes += 1
    this.#merge(change)
    this.#store ??= openDeviceStore()
    const store = this.#store
    const written = this.#writing.then(async () => (await store).write(change))
    this.#writing = written.then(
      () => this.pages?.postMessage('changed'),
      // A full disk: the entries are still here and are sent, and the screen says that the page must stay open.
      () => this.set({ isLasting: false }),
    )
    await this.#writing
  }

  #merge({ put = [], remove = [], putRuns = [], removeRuns = [], who }: Change): void {
    const gone = new Set([...put.map(({ operation }) => operation.id), ...remove])
    const others = (this.state.entries ?? []).filter(({ operation }) => !gone.has(operation.id))
    const key = ({ run, person }: KeptRun) => `${run.id} ${person.id}`
    const goneRuns = new Set([...putRuns, ...removeRuns].map(key))
    this.set({
      entries: put.length + remove.length > 0 ? inOrder([...others, ...put]) : this.state.entries,
      runs: [...this.state.runs.filter((run) => !goneRuns.has(key(run))), ...putRuns],
      who: who === undefined ? this.state.who : who,
    })
  }
}

/** What stands on the counter stays there while the rest is fetched anew. */
function pickUnsaid({ unsaidHanging }: KeptRun): Pick<KeptRun, 'unsaidHanging'> {
  return unsaidHanging === undefined ? {} : { unsaidHanging }
}

function markIncluded(entries: readonly Entry[]): Entry[] {
  return entries.map((entry) =>
    isUnsent(entry) ? entry : { ...entry, tap: { ...entry.tap, isIncluded: true } },
  )
}

const ONE_DAY_MS = 86_400_000

/** Runs that were finished, and whose every tap arrived, a day ago or longer: nobody needs them here any more. */
function listOver({ entries, runs }: Kept): { entries: Entry[]; runs: KeptRun[] } {
  const dayAgo = new Date(Date.now() - ONE_DAY_MS).toISOString()
  const isOver = (id: string) => {
    const own = entries.filter((entry) => entry.run === id)
    const finish = own.find(({ tap }) => tap.kind === 'finish')
    return (
      finish !== undefined &&
      finish.operation.tappedAt < dayAgo &&
      own.every(({ state, tap }) => state === 'sent' || tap.isDropped)
    )
  }
  return {
    entries: entries.filter(({ run }) => isOver(run)),
    runs: runs.filter(({ run }) => isOver(run.id)),
  }
}
