-- ── Work for a later day is queued once for what it is about, and can be taken back ───────────────
-- Asked for again it is put off to the newer instant; what it was about may be gone before that comes.
CREATE FUNCTION app.job_key(task text, payload jsonb) RETURNS text LANGUAGE sql STABLE SET search_path = pg_catalog AS $$
  SELECT task || ':' || md5((payload || jsonb_build_object('workspaceId', app.workspace()))::text)
$$;
GRANT EXECUTE ON FUNCTION app.job_key(text, jsonb) TO oothecary_jobs;

CREATE OR REPLACE FUNCTION app.enqueue_at(task text, payload jsonb, due timestamptz) RETURNS void LANGUAGE plpgsql
SECURITY DEFINER SET search_path = pg_catalog AS $$
BEGIN
  PERFORM graphile_worker.add_job(task, (payload || jsonb_build_object('workspaceId', app.workspace()))::json,
    run_at := due, job_key := app.job_key(task, payload));
END $$;

CREATE FUNCTION app.dequeue(task text, payload jsonb) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog AS $$
BEGIN
  PERFORM graphile_worker.remove_job(app.job_key(task, payload));
END $$;
GRANT CREATE ON SCHEMA app TO oothecary_jobs;
ALTER FUNCTION app.dequeue(text, jsonb) OWNER TO oothecary_jobs;
REVOKE CREATE ON SCHEMA app FROM oothecary_jobs;
GRANT EXECUTE ON FUNCTION app.dequeue(text, jsonb) TO oothecary_app;
