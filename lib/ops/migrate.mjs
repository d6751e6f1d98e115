// npm run migrate: roles, extensions, queue and migrations on DATABASE_URL, or on the running embedded database.
import { runCommandBody, say } from './say.mjs'
import { makeReady } from './setup/ready.mjs'

await runCommandBody(async () => {
  await makeReady()
  const { findInstance } = await import('./instance.mjs')
  const { prepareDatabase } = await import('./database/prepare.mjs')
  const { adminUrl, secrets } = await findInstance()
  const { applied, kept } = await prepareDatabase(adminUrl, secrets.passwords)
  say(applied.length === 0 ? 'Nothing to apply.' : `Applied: ${applied.join(', ')}`)
  if (kept.length > 0)
    say(`To be run by a superuser; until then only the backup has to wait:\n${kept.join('\n')}`)
})
