import { LinkButton } from '@/components/ui/link-button'

/** All records in one file: to keep, to read elsewhere, to make a workspace from. */
export function Everything({ workspace }: { workspace: string }) {
  return (
    <section className="mt-10 border-line border-t pt-6">
      <h2>Everything in one file</h2>
      <p className="mb-4 max-w-xl text-small text-soft">
        A zip of every record as it stands now: lines of JSON with checksums, and the same as CSV for a
        spreadsheet. A workspace can be made from it again, here or elsewhere. It holds names and addresses of
        people, so keep it where you would keep those. Passwords and tokens are not in it.
      </p>
      <LinkButton kind="plain" href={`/w/${workspace}/settings/everything.zip`} prefetch={false} download>
        Download everything
      </LinkButton>
    </section>
  )
}
