// npm run catalogue: writes prisma/catalogue.txt, the locks of a freshly migrated database, to be read in a review.
import fs from 'node:fs'
import { inProject } from './place.mjs'
import { runCommandBody, say } from './say.mjs'
import { makeReady } from './setup/ready.mjs'

await runCommandBody(async () => {
  await makeReady()
  const { withMigratedScratch } = await import('./testing/scratch.mjs')
  const { withConnection } = await import('./database/connection.mjs')
  const { readCatalogue } = await import('./database/catalogue.mjs')
  const text = await withMigratedScratch((url) => withConnection(url, readCatalogue))
  fs.writeFileSync(inProject('prisma/catalogue.txt'), text)
  say('Written: prisma/catalogue.txt')
})
