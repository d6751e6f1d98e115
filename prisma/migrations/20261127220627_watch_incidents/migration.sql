-- CreateEnum
CREATE TYPE "incident_kind" AS ENUM ('too_hot', 'too_cold', 'silent');

-- CreateTable
CREATE TABLE "zone_watch" (
    "workspace_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "low_c" DOUBLE PRECISION,
    "high_c" DOUBLE PRECISION,
    "delay_minutes" INTEGER NOT NULL DEFAULT 10,
    "silence_minutes" INTEGER,
    "since_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "zone_watch_pkey" PRIMARY KEY ("workspace_id","zone_id")
);

-- CreateTable
CREATE TABLE "zone_watcher" (
    "workspace_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "zone_watcher_pkey" PRIMARY KEY ("workspace_id","zone_id","person_id")
);

-- CreateTable
CREATE TABLE "watch_look" (
    "workspace_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "due_at" TIMESTAMPTZ(3),

    CONSTRAINT "watch_look_pkey" PRIMARY KEY ("workspace_id","zone_id")
);

-- CreateTable
CREATE TABLE "zone_incident" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "zone_id" UUID NOT NULL,
    "kind" "incident_kind" NOT NULL,
    "began_at" TIMESTAMPTZ(3) NOT NULL,
    "ended_at" TIMESTAMPTZ(3),
    "extreme_c" DOUBLE PRECISION,
    "limit_c" DOUBLE PRECISION,
    "call_due_at" TIMESTAMPTZ(3),
    "calls" INTEGER NOT NULL DEFAULT 0,
    "taken_by" UUID,
    "taken_at" TIMESTAMPTZ(3),
    "note" TEXT NOT NULL DEFAULT '',
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "zone_incident_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "watch_look_due_idx" ON "watch_look"("due_at");

-- CreateIndex
CREATE INDEX "zone_incident_zone_idx" ON "zone_incident"("workspace_id", "zone_id", "began_at");

-- AddForeignKey
ALTER TABLE "zone_watch" ADD CONSTRAINT "zone_watch_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "zone_watcher" ADD CONSTRAINT "zone_watcher_watch_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone_watch"("workspace_id", "zone_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "zone_watcher" ADD CONSTRAINT "zone_watcher_person_fkey" FOREIGN KEY ("workspace_id", "person_id") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "watch_look" ADD CONSTRAINT "watch_look_watch_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone_watch"("workspace_id", "zone_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "zone_incident" ADD CONSTRAINT "zone_incident_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "zone_incident" ADD CONSTRAINT "zone_incident_taker_fkey" FOREIGN KEY ("workspace_id", "taken_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- When to look next is bookkeeping that follows from the rest; it changes with every reading.
CALL app.close_table('zone_watch');
CALL app.close_table('zone_watcher');
CALL app.close_table('watch_look', false);
CALL app.close_table('zone_incident');
GRANT SELECT, INSERT, UPDATE ON zone_watch, zone_watcher, watch_look, zone_incident TO oothecary_app;

-- Which zones are due is asked before any workspace is known.
GRANT SELECT ON watch_look TO oothecary_auth;
CREATE POLICY look_up ON watch_look FOR SELECT TO oothecary_auth USING (true);

ALTER TABLE zone_watch
  ADD CONSTRAINT zone_watch_limits CHECK (low_c BETWEEN -40 AND 70 AND high_c BETWEEN -40 AND 70 AND low_c < high_c),
  ADD CONSTRAINT zone_watch_minutes CHECK (delay_minutes BETWEEN 0 AND 1440 AND silence_minutes BETWEEN 5 AND 10080);
-- One time of one kind in one zone is one incident, whoever writes it down first.
ALTER TABLE zone_incident
  ADD CONSTRAINT zone_incident_order CHECK (ended_at >= began_at),
  ADD CONSTRAINT zone_incident_extent CHECK ((kind = 'silent') = (extreme_c IS NULL) AND (kind = 'silent') = (limit_c IS NULL)),
  ADD CONSTRAINT zone_incident_never_twice EXCLUDE USING gist
    (workspace_id WITH =, zone_id WITH =, kind WITH =, tstzrange(began_at, ended_at, '[]') WITH &&)
    WHERE (archived_at IS NULL);
