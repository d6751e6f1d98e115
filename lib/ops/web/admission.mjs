// Who is served now, who waits, and who is told at once that it is too much: a server that takes everything in
// answers nobody in time. Places are shared out by caller, so that a neighbour with many requests waits behind
// somebody with one.

const WINDOW_MS = 5000
const FEWEST_FINISHED = 8

/** How many are finished a second while every place is taken: what can be done, not what was asked for. */
function makePace(now) {
  let since = null
  let finished = 0
  let perSecond = null
  return {
    begin: () => {
      since ??= now()
    },
    end: () => {
      since = null
      finished = 0
      perSecond = null
    },
    count: () => {
      if (since === null) return
      finished += 1
      const passed = now() - since
      if (finished < FEWEST_FINISHED || passed <= 0) return
      perSecond = (finished * 1000) / passed
      if (passed < WINDOW_MS) return
      since = now()
      finished = 0
    },
    /** How long the last of so many would wait; unknown in the first moments, and then not held against anybody. */
    waitMs: (waiting) => (perSecond === null ? 0 : (waiting * 1000) / perSecond),
  }
}

/**
 * @typedef {{caller: string, start: (isAdmitted: boolean) => void, timer: NodeJS.Timeout}} Waiting
 * @param {{places: number, queue: number, patienceMs: number}} limits `places` are served at once; `queue` may wait,
 *   none of them longer than `patienceMs`, and who would have to is told before
 * @param {() => number} [now] milliseconds on a clock that only goes forward
 */
export function makeAdmission({ places, queue, patienceMs }, now = () => performance.now()) {
  const pace = makePace(now)
  /** @type {Map<string, number>} */
  const served = new Map()
  /** @type {Waiting[]} oldest first */
  let waiting = []
  let taken = 0

  const servedOf = (caller) => served.get(caller) ?? 0
  const waitingOf = (caller) => waiting.filter((each) => each.caller === caller).length

  const admit = (caller) => {
    taken += 1
    served.set(caller, servedOf(caller) + 1)
    if (taken === places) pace.begin()
  }

  const leaveQueue = (entry, isAdmitted) => {
    clearTimeout(entry.timer)
    waiting = waiting.filter((each) => each !== entry)
    if (isAdmitted) admit(entry.caller)
    entry.start(isAdmitted)
  }

  /** The next place goes to whoever has the fewest; among equals to who has waited longest. */
  const next = () => {
    const fewest = Math.min(...waiting.map(({ caller }) => servedOf(caller)))
    return waiting.find(({ caller }) => servedOf(caller) === fewest)
  }

  const release = (caller) => {
    taken -= 1
    if (servedOf(caller) > 1) served.set(caller, servedOf(caller) - 1)
    else served.delete(caller)
    pace.count()
    const entry = next()
    if (entry) leaveQueue(entry, true)
    else pace.end()
  }

  const isFull = () => waiting.length >= queue || pace.waitMs(waiting.length + 1) > patienceMs

  /** In a full queue the last to come of the caller with the most in it makes room, unless that is this one. */
  const makeRoom = (caller) => {
    if (!isFull()) return true
    const greediest = waiting.findLast((each) => waitingOf(each.caller) > waitingOf(caller) + 1)
    if (greediest) leaveQueue(greediest, false)
    return greediest !== undefined
  }

  const wait = (caller) =>
    new Promise((resolve) => {
      const entry = { caller, start: resolve, timer: setTimeout(() => leaveQueue(entry, false), patienceMs) }
      waiting.push(entry)
    })

  return {
    /** Whether it may be served; who may has to `release` its place afterwards. */
    async enter(caller) {
      if (taken < places) {
        admit(caller)
        return true
      }
      return makeRoom(caller) && wait(caller)
    },
    release,
    counts: () => ({ served: taken, waiting: waiting.length }),
  }
}
