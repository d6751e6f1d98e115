'use client'

import { CopyButton } from '@/components/ui/copy-button'
import { DialogButton } from '@/components/ui/dialog'
import { ConfirmButton } from '@/components/ui/form/confirm-button'
import { FormCheckbox } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { ForSalePage } from '@/lib/features/price-list/loaders'
import { closeListAction, publishListAction } from '@/lib/features/public-list/actions'
import { publishListSchema } from '@/lib/features/public-list/schema'

type Props = { workspace: string; page: Pick<ForSalePage, 'publicList' | 'mayPublish'> }

/** Whether this list can be read by whoever has its address. */
export function PublicList({ workspace, page: { publicList, mayPublish } }: Props) {
  if (!publicList && !mayPublish) return null
  return (
    <section className="no-print mt-8 max-w-2xl border-line border-t pt-4">
      <h2>A page for everybody</h2>
      {publicList ? (
        <>
          <p className="mt-1 text-small">
            Whoever has this address reads the list as it is at that moment, with your contact and nothing
            else:{' '}
            {publicList.saysCounts ? 'how many there are of each.' : '“some” instead of how many there are.'}
          </p>
          <p className="mt-2 break-all">
            <a href={publicList.address} target="_blank" rel="noreferrer" className="py-2.5">
              {publicList.address}
            </a>
          </p>
          <div className="-ms-4">
            <CopyButton text={publicList.address} label="Copy the address" />
          </div>
        </>
      ) : (
        <p className="mt-1 text-small text-soft">
          It is closed: nobody outside reads this list. Open it to have an address that can be given away.
        </p>
      )}
      {mayPublish ? (
        <div className="mt-3 flex flex-wrap gap-3">
          <OpenList workspace={workspace} publicList={publicList} />
          {publicList ? <CloseList workspace={workspace} version={publicList.version} /> : null}
        </div>
      ) : null}
    </section>
  )
}

function OpenList({ workspace, publicList }: { workspace: string; publicList: ForSalePage['publicList'] }) {
  const done = useDone()
  return (
    <DialogButton
      label={publicList ? 'What it says' : 'Open it'}
      kind="plain"
      title={publicList ? 'What the page says' : 'Open a page of what is for sale'}
    >
      {({ close }) => (
        <RecordForm
          name="public-list"
          schema={publishListSchema}
          action={publishListAction}
          workspace={workspace}
          defaultValues={{ saysCounts: publicList?.saysCounts ?? false }}
          onDone={() => {
            close()
            done('The page is open.')
          }}
          submitLabel={publicList ? 'Keep it' : 'Open it'}
        >
          <p className="text-small">
            It says species, instar, sex and price of what is free, your name and your contact, in five
            languages. No buyer, no label and no other record is on it, nobody who reads it is followed, and
            search engines are asked to leave it out.
          </p>
          <FormCheckbox name="saysCounts" label="Say how many there are; otherwise it says “some”" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function CloseList({ workspace, version }: { workspace: string; version: number }) {
  return (
    <ConfirmButton
      label="Close it"
      title="Close the page?"
      action={closeListAction}
      workspace={workspace}
      input={{ version }}
      confirm="Close it"
      said="The page is closed."
    >
      Its address will lead nowhere, for good. Opened again, it has a new one.
    </ConfirmButton>
  )
}
