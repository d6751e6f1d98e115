import pg from 'pg'
import { env } from '@/lib/platform/env'
import { log } from '@/lib/platform/log'

/** Advisory locks of this service by what they are for. */
const WORKER_LOCKS = 7_140_001
const LOOK_EVERY_MS = 5_000

/**
 * Which workers of the queue are alive. The queue itself frees a job only four hours after its process was killed, and a
 * mail that calls somebody to a hot shelf cannot wait. Each process holds a lock for each of its workers on a connection
 * of its own, which ends with it; whoever is alive frees the jobs of workers that nobody holds a lock for. A job done
 * twice has one effect, so that a connection lost by a process that lives on costs work and nothing else.
 */
export class LiveWorkers {
  readonly #ids = new Set<string>()
  #client: pg.Client | undefined
  #held = new Set<string>()
  #timer: ReturnType<typeof setInterval> | undefined
  #looking: Promise<void> = Promise.resolve()

  async start(): Promise<void> {
    await this.#look()
    this.#timer = setInterval(() => void this.#look(), LOOK_EVERY_MS)
  }

  add(workerId: string): void {
    this.#ids.add(workerId)
    void this.#look()
  }

  async stop(): Promise<void> {
    clearInterval(this.#timer)
    await this.#looking
    await this.#client?.end()
  }

  /** One after another: they share a connection. A database that is away is asked again. */
  #look(): Promise<void> {
    this.#looking = this.#looking.then(async () => {
      try {
        await freeJobs(await this.#connect())
      } catch (error) {
        const said = error instanceof Error ? error.message : String(error)
        log.warn({ where: 'jobs', error: said }, 'who works at the queue could not be told')
        this.#forget()
      }
    })
    return this.#looking
  }

  async #connect(): Promise<pg.Client> {
    if (!this.#client) {
      const client = new pg.Client({ connectionString: env().JOBS_DATABASE_URL })
      client.on('error', () => this.#forget())
      await client.connect()
      this.#client = client
    }
    for (const id of this.#ids) {
      if (this.#held.has(id)) continue
      await this.#client.query('select pg_advisory_lock($1, hashtext($2))', [WORKER_LOCKS, id])
      this.#held.add(id)
    }
    return this.#client
  }

  #forget(): void {
    void this.#client?.end().catch(() => undefined) // it is gone already
    this.#client = undefined
    this.#held = new Set()
  }
}

/** A worker that has only just taken its first job may still be on its way to its lock. */
async function freeJobs(client: pg.Client): Promise<void> {
  await client.query(
    `select graphile_worker.force_unlock_workers(array_agg(distinct j.locked_by)) from graphile_worker.jobs j
     where j.locked_at < now() - interval '2 seconds' and not exists (
       select from pg_locks l where l.locktype = 'advisory' and l.granted and l.classid = $1
         and l.objid = hashtext(j.locked_by)::oid and l.objsubid = 2
         and l.database = (select d.oid from pg_database d where d.datname = current_database()))
     having count(*) > 0`,
    [WORKER_LOCKS],
  )
}
