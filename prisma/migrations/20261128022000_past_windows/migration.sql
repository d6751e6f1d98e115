-- CreateTable
CREATE TABLE "past_window_month" (
    "workspace_id" UUID NOT NULL,
    "species_id" UUID NOT NULL,
    "month_on" DATE NOT NULL,
    "evidence_hash" TEXT NOT NULL,
    "instars_seen" INTEGER NOT NULL,
    "windows" JSONB NOT NULL,

    CONSTRAINT "past_window_month_pkey" PRIMARY KEY ("workspace_id","species_id","month_on")
);

-- AddForeignKey
ALTER TABLE "past_window_month" ADD CONSTRAINT "past_window_month_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What follows from other rows needs no trail of its own.
CALL app.close_table('past_window_month', false);

GRANT SELECT, INSERT, UPDATE ON past_window_month TO oothecary_app;

ALTER TABLE past_window_month
  ADD CONSTRAINT past_window_month_first_day CHECK (date_trunc('month', month_on) = month_on),
  ADD CONSTRAINT past_window_month_list CHECK (jsonb_typeof(windows) = 'array'),
  ADD CONSTRAINT past_window_month_seen CHECK (instars_seen >= 0);

-- One job for a species. What is looked back on is weeks old, so a change may wait for others of the same evening.
CREATE FUNCTION app.enqueue_past_windows(species uuid) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog AS $$
DECLARE
  job text := 'look-back:' || app.workspace() || ':' || species;
  pending timestamptz;
BEGIN
  SELECT run_at INTO pending FROM graphile_worker.jobs WHERE key = job AND locked_at IS NULL AND attempts = 0;
  PERFORM graphile_worker.add_job('look-back',
    jsonb_build_object('workspaceId', app.workspace(), 'speciesId', species)::json,
    job_key := job, job_key_mode := 'replace', run_at := least(pending, now() + interval '10 minutes'));
END $$;
GRANT CREATE ON SCHEMA app TO oothecary_jobs;
ALTER FUNCTION app.enqueue_past_windows(uuid) OWNER TO oothecary_jobs;
REVOKE CREATE ON SCHEMA app FROM oothecary_jobs;
GRANT EXECUTE ON FUNCTION app.enqueue_past_windows(uuid) TO oothecary_app, oothecary_owner;
