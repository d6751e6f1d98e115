import type pg from 'pg'
import { authPool } from '@/lib/platform/auth-database'

/** Several statements about people and devices, all or none. */
export async function inAuthTransaction<T>(work: (client: pg.PoolClient) => Promise<T>): Promise<T> {
  const client = await authPool().connect()
  try {
    await client.query('begin')
    const result = await work(client)
    await client.query('commit')
    client.release()
    return result
  } catch (error) {
    // A connection that cannot even roll back is not lent again.
    const isUsable = await client.query('rollback').then(
      () => true,
      () => false,
    )
    client.release(!isUsable)
    throw error
  }
}
