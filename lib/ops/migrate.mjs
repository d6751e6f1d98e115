// npm run migrate: roles, extensions, queue and migrations on DATABASE_URL, or on the embedded database.
import { runCommandBody, say } from './say.mjs'
import { checkNodeVersion } from './settings.mjs'
import { makeReady } from './setup/ready.mjs'

await runCommandBody(async () => {
  checkNodeVersion()
  await makeReady()
  const { withInstance } = await import('./instance.mjs')
  const { prepareDatabase } = await import('./database/prepare.mjs')
  const { applied, kept } = await withInstance(
    ({ adminUrl, secrets }) => prepareDatabase(adminUrl, secrets.passwords),
    { isFirst: true },
  )
  say(applied.length === 0 ? 'Nothing to apply.' : `Applied: ${applied.join(', ')}`)
  if (kept.length > 0)
    say(`To be run by a superuser; until then only the backup has to wait:\n${kept.join('\n')}`)
})
