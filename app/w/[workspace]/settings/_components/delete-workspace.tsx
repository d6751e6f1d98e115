'use client'

import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { archiveWorkspaceAction } from '@/lib/features/workspace-archive/actions'
import { archiveWorkspaceSchema } from '@/lib/features/workspace-archive/schema'

type Props = { workspace: string; name: string; version: number }

export function DeleteWorkspace({ workspace, name, version }: Props) {
  return (
    <section className="mt-10 border-line border-t pt-6">
      <h2>Delete this workspace</h2>
      <p className="mb-4 max-w-xl text-small text-soft">
        At once nobody can open it any more: not the people in it, no token, no printed code, no alarm of a
        zone is sent. For 30 days an owner can take it back from “Your workspaces”, with everything in it.
        Download everything first if you want to keep it longer.
      </p>
      <RecordForm
        key={version}
        name="delete-workspace"
        schema={archiveWorkspaceSchema}
        action={archiveWorkspaceAction}
        workspace={workspace}
        defaultValues={{ name: '', version }}
        onDone={() => window.location.assign('/')}
        submitLabel="Delete the workspace"
        submitKind="plain"
      >
        <FormText name="name" label="Its name, to be sure" hint={`Type “${name}”.`} />
      </RecordForm>
    </section>
  )
}
