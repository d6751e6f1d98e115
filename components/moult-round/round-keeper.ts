import type { ActionResult } from '@/lib/platform/action-result'
import { type DeviceRound, type Recorded, type Sending, settleSending } from './device-round'

export type Link = 'quiet' | 'sending' | 'waiting' | 'signed-out' | 'older-build'
export type Kept = {
  round: DeviceRound | null
  link: Link
  isLasting: boolean
  /** What the device had and nobody can read as a round: put aside until a person has dealt with it. */
  damaged: string | null
}

/** Where a round is kept: the device's own storage, or nothing where there is none. */
export type RoundStore = {
  read(): string | null
  write(text: string | null): void
  readAside(): string | null
  writeAside(text: string | null): void
}
export type Send = (sending: Sending) => Promise<ActionResult<unknown>>

export const NOTHING_KEPT: Kept = { round: null, link: 'quiet', isLasting: true, damaged: null }
const TRY_AGAIN_MS = 8_000

/**
 * Keeps a round on the device until the service has taken every part of it: written down at each tap, sent in order,
 * each part under its own key so that it counts once however often it is sent.
 */
export class RoundKeeper {
  private kept: Kept = NOTHING_KEPT
  private readonly listeners = new Set<() => void>()
  private isUnderWay = false

  constructor(
    private readonly store: RoundStore,
    private readonly send: Send,
  ) {}

  readonly subscribe = (listener: () => void) => {
    this.listeners.add(listener)
    return () => this.listeners.delete(listener)
  }
  readonly getKept = () => this.kept

  /** Reads what the device has, and sends on whenever there is a connection again. Returns the way to stop. */
  readonly start = () => {
    this.open()
    void this.drain()
    const again = () => void this.drain()
    const timer = setInterval(again, TRY_AGAIN_MS)
    window.addEventListener('online', again)
    return () => {
      clearInterval(timer)
      window.removeEventListener('online', again)
    }
  }

  /** The person has saved or given up what could not be read. */
  readonly forgetDamaged = () => {
    this.store.writeAside(null)
    this.tell({ damaged: null })
  }

  readonly change = (next: DeviceRound | null) => {
    this.write(next)
    this.tell({ round: next })
    void this.drain()
  }

  /** Sends what waits, first things first. What was refused waits for a person and holds nothing else up. */
  readonly drain = async () => {
    if (this.isUnderWay) return
    this.isUnderWay = true
    try {
      for (let next = this.next(); next; next = this.next()) {
        this.tell({ link: 'sending' })
        const link = await this.attempt(next)
        if (link !== 'quiet') return this.tell({ link })
      }
      this.tell({ link: 'quiet' })
    } finally {
      this.isUnderWay = false
    }
  }

  private next(): Sending | undefined {
    return this.kept.round?.queue.find(({ trouble }) => !trouble)
  }

  private async attempt(sending: Sending): Promise<Link> {
    let result: ActionResult<unknown>
    try {
      result = await this.send(sending)
    } catch (thrown) {
      // The connection is gone, or the page is older than the service: kept, and tried again.
      return thrown instanceof Error && thrown.name === 'UnrecognizedActionError' ? 'older-build' : 'waiting'
    }
    if (result.status === 'signed-out') return 'signed-out'
    if (result.status === 'failed') return 'waiting'
    const { round } = this.kept
    if (!round) return 'quiet'
    const settled = settleSending(
      round,
      sending.id,
      result.status === 'done'
        ? { recorded: readRecorded(result.value, result.warnings ?? []) }
        : { trouble: { message: result.message, fields: result.fields ?? [] } },
    )
    this.write(settled)
    this.tell({ round: settled })
    return 'quiet'
  }

  private open(): void {
    try {
      const text = this.store.read()
      const found = text === null ? null : readRound(text)
      if (text !== null && found === 'damaged') this.putAside(text)
      this.tell({ round: found === 'damaged' ? null : found, damaged: this.store.readAside() })
    } catch {
      this.tell({ isLasting: false })
    }
  }

  /** Moved before anything is written over it; on top of what was put aside earlier, so that neither is lost. */
  private putAside(text: string): void {
    const before = this.store.readAside()
    this.store.writeAside(before === null ? text : `${before}\n${text}`)
    this.store.write(null)
  }

  private write(round: DeviceRound | null): void {
    try {
      this.store.write(round === null ? null : JSON.stringify(round))
    } catch {
      // Said on the screen through isLasting: a full or closed storage keeps nothing over a reload.
      this.tell({ isLasting: false })
    }
  }

  private tell(change: Partial<Kept>): void {
    this.kept = { ...this.kept, ...change }
    for (const listener of this.listeners) listener()
  }
}

/** Where rounds stand in a device's own storage: under this word, the workspace and the person. */
export const ROUND_KEY = 'moult-round '

/** Damaged is a text that is no whole round: cut off by a full disk, or of a build that kept it otherwise. */
export function readRound(text: string): DeviceRound | 'damaged' {
  try {
    const found: unknown = JSON.parse(text)
    return isRound(found) ? found : 'damaged'
  } catch {
    return 'damaged'
  }
}

function isRound(found: unknown): found is DeviceRound {
  return (
    typeof found === 'object' &&
    found !== null &&
    'round' in found &&
    'queue' in found &&
    Array.isArray(found.queue) &&
    'skins' in found &&
    typeof found.skins === 'object'
  )
}

function readRecorded(value: unknown, warnings: readonly { message: string }[]): Recorded {
  const counts = typeof value === 'object' && value !== null ? value : {}
  const { looks, moults } = { looks: 0, moults: 0, ...counts }
  return { looks: Number(looks), moults: Number(moults), warnings: warnings.map(({ message }) => message) }
}
