import { ClosePage } from '@/components/public-page/close-page'
import type { IndividualPage } from '@/lib/features/individual/loaders'

/** The page behind the code on its sheets: open or not, and how to close it. */
export function PublicPagePart({ workspace, page }: { workspace: string; page: IndividualPage }) {
  const { publicLink, lotLinks, history, may, animal } = page
  return (
    <section>
      <h2>Care sheets</h2>
      <p className="mt-2 text-small text-soft">{saySheets(history.sheets.count, publicLink !== null)}</p>
      {publicLink ? (
        <div className="mt-2 flex flex-wrap items-center gap-x-4 gap-y-2">
          <a href={publicLink.address} target="_blank" rel="noreferrer" className="py-2.5">
            See the public page
          </a>
          {may.revoke ? (
            <ClosePage workspace={workspace} of={{ individual: animal.id }} version={publicLink.version} />
          ) : null}
        </div>
      ) : null}
      {lotLinks.length > 0 ? (
        <ul aria-label="Pages of lots it was printed in" className="mt-2">
          {lotLinks.map(({ id, subjectId, version, address }) => (
            <li key={id} className="flex flex-wrap items-center gap-x-4 gap-y-2">
              <a href={address} target="_blank" rel="noreferrer" className="py-2.5">
                See the page of its lot
              </a>
              {may.revoke ? (
                <ClosePage
                  workspace={workspace}
                  of={{ lot: subjectId }}
                  version={version}
                  label="Close the lot’s page"
                />
              ) : null}
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  )
}

function saySheets(count: number, isOpen: boolean): string {
  if (count === 0) return 'None was printed yet. Printing the first one opens a public page behind its code.'
  const printed = count === 1 ? 'One was printed.' : `${count} were printed.`
  return isOpen
    ? `${printed} The code on them leads to a page that anybody with the sheet can read.`
    : `${printed} Their page is closed.`
}
