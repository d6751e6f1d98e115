import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { listCountryChoices, listTimeZoneChoices } from '@/lib/domain/place/choices'
import { loadSettingsPage } from '@/lib/features/workspace/loaders'
import { AddressForm } from './_components/address-form'
import { DeleteWorkspace } from './_components/delete-workspace'
import { Everything } from './_components/everything'
import { SettingsForm } from './_components/settings-form'

export const metadata = { title: 'Workspace' }

type Props = { params: Promise<{ workspace: string }> }

export default async function SettingsPage({ params }: Props) {
  const { workspace } = await params
  const { settings } = await loadSettingsPage(workspace)
  const { slug, version, currency } = settings
  return (
    <>
      <PageHeader
        title="Workspace"
        facts={`${settings.name} · prices in ${currency}`}
        actions={
          <div className="-ms-4 flex flex-wrap desk:-me-4 desk:ms-0">
            <LinkButton kind="quiet" href={`/w/${workspace}/tokens`}>
              API tokens
            </LinkButton>
            <LinkButton kind="quiet" href={`/w/${workspace}/audit`}>
              What was done
            </LinkButton>
            <LinkButton kind="quiet" href={`/w/${workspace}/mails`}>
              Mails
            </LinkButton>
          </div>
        }
      />
      <div className="pt-4">
        <SettingsForm
          workspace={workspace}
          settings={settings}
          countries={listCountryChoices()}
          timeZones={listTimeZoneChoices()}
        />
      </div>
      <section className="mt-10 border-line border-t pt-6">
        <h2>Address</h2>
        <p className="mb-4 max-w-xl text-small text-soft">
          Old addresses keep leading here, so printed labels go on working.
        </p>
        <AddressForm workspace={workspace} slug={slug} version={version} />
      </section>
      <Everything workspace={workspace} />
      <DeleteWorkspace workspace={workspace} name={settings.name} version={version} />
    </>
  )
}
