import { addDays, type PlainDate } from '../calendar/date'

/** A jar as far as mites are concerned. */
export type Jar = {
  id: string
  /** Where it stands; jars of one shelf infect each other. */
  shelf: string | null
  /** The jar its starters came from. */
  startersFrom: string | null
  startedOn: PlainDate
  /** The day somebody marked it for mites. */
  mitesOn: PlainDate | null
}

export const SUSPECT_DAYS = 30
/** Expected share of its yield that a suspect jar still gives, a default. */
export const SUSPECT_YIELD_SHARE = 0.6

/** Why and until when a jar is suspect. */
export type Suspicion = {
  jar: string
  until: PlainDate
  because: 'marked' | 'shelf' | 'starters'
  of: string
}

/**
 * Jars under suspicion on a day: a marked one, those that shared its shelf, and those it gave starters to or
 * had them from, for thirty days after the mark. They are fed out, never give starters, and are replaced from
 * a clean jar or bought.
 */
export function listSuspects(jars: readonly Jar[], today: PlainDate): Suspicion[] {
  const found = new Map<string, Suspicion>()
  const suspect = (suspicion: Suspicion) => {
    const before = found.get(suspicion.jar)
    if (!before || RANK[suspicion.because] < RANK[before.because]) found.set(suspicion.jar, suspicion)
  }
  for (const marked of jars) {
    if (marked.mitesOn === null || marked.mitesOn > today) continue
    const until = addDays(marked.mitesOn, SUSPECT_DAYS)
    if (today > until) continue
    suspect({ jar: marked.id, until, because: 'marked', of: marked.id })
    for (const other of jars) {
      if (other.id === marked.id) continue
      const isKin = other.startersFrom === marked.id || marked.startersFrom === other.id
      if (isKin) suspect({ jar: other.id, until, because: 'starters', of: marked.id })
      else if (marked.shelf !== null && other.shelf === marked.shelf && other.startedOn <= until)
        suspect({ jar: other.id, until, because: 'shelf', of: marked.id })
    }
  }
  return [...found.values()]
}

const RANK = { marked: 0, starters: 1, shelf: 2 } as const

/** The jars that may give starters: not suspect, and giving flies now. */
export function listCleanJars(jars: readonly Jar[], today: PlainDate): Jar[] {
  const suspects = new Set(listSuspects(jars, today).map(({ jar }) => jar))
  return jars.filter(({ id }) => !suspects.has(id))
}

/** The words beside a suspect jar. */
export function saySuspicion({ because, of, until }: Suspicion): string {
  if (because === 'marked') return `Mites. Feed it out, take no starters, discard it by ${until}.`
  const how = because === 'shelf' ? `shared a shelf with ${of}` : `shares starters with ${of}`
  return `Suspect until ${until}: ${how}. Feed it out, take no starters.`
}
