import pg from 'pg'
import { describe, expect, it } from 'vitest'
import { lookUpPublicLink } from '@/lib/platform/public-link'
import { publicLinkToken } from '@/lib/platform/secret'
import { requireDatabase } from '@/tests/support/database'
import { stockWorkspace } from './stock'

const database = requireDatabase()

describe('a page behind a printed code', () => {
  it('is closed by its revocation alone, whatever else happens to its address', async () => {
    const client = new pg.Client({ connectionString: database.urls.admin })
    await client.connect()
    const { workspaceId, rows } = await stockWorkspace(client, 'Own')
    const { id, individual_id } = rows.get('public_link') ?? {}
    const token = publicLinkToken(String(id), 1)
    expect(await lookUpPublicLink(token)).toMatchObject({
      subject: { kind: 'individual', id: individual_id },
      scope: { workspaceId, role: 'viewer' },
    })
    expect(await lookUpPublicLink(publicLinkToken(String(id), 2))).toBeUndefined()
    await client.query(`select set_config('app.workspace_id', $1, false)`, [workspaceId])
    await client.query('update public_link set revoked_at = now()')
    await client.end()
    expect(await lookUpPublicLink(token)).toBeUndefined()
  })

  it('leads a misspelt address nowhere', async () => {
    for (const token of ['', 'short', 'x'.repeat(27), "' or true --", 'ü'.repeat(27), 'x'.repeat(5000)])
      expect(await lookUpPublicLink(token)).toBeUndefined()
  })
})
