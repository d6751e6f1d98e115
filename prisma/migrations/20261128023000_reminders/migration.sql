-- What reaches people unasked: dates in their calendars, and the day sheet by mail.

SET lock_timeout = '5s';

-- AlterTable
ALTER TABLE "mail_message" ADD COLUMN     "html" TEXT;

-- CreateTable
CREATE TABLE "calendar_feed" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "person_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "calendar_feed_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "calendar_date" (
    "workspace_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "sequence" INTEGER NOT NULL DEFAULT 0,
    "starts_on" DATE NOT NULL,
    "ends_on" DATE NOT NULL,
    "title" TEXT NOT NULL,
    "details" TEXT NOT NULL DEFAULT '',
    "path" TEXT NOT NULL DEFAULT '',
    "cancelled" BOOLEAN NOT NULL DEFAULT false,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "calendar_date_pkey" PRIMARY KEY ("workspace_id","key")
);

-- CreateTable
CREATE TABLE "day_mail" (
    "workspace_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "hour" INTEGER NOT NULL,
    "last_on" DATE,
    "ended_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "day_mail_pkey" PRIMARY KEY ("workspace_id","person_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "calendar_feed_token_hash_key" ON "calendar_feed"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "calendar_feed_one_per_person" ON "calendar_feed"("workspace_id", "person_id") WHERE (revoked_at IS NULL);

-- AddForeignKey
ALTER TABLE "calendar_feed" ADD CONSTRAINT "calendar_feed_person_fkey" FOREIGN KEY ("workspace_id", "person_id") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "calendar_date" ADD CONSTRAINT "calendar_date_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "day_mail" ADD CONSTRAINT "day_mail_person_fkey" FOREIGN KEY ("workspace_id", "person_id") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('calendar_feed');
-- What follows from the rest is bookkeeping; it changes with every forecast.
CALL app.close_table('calendar_date', false);
CALL app.close_table('day_mail');
GRANT SELECT, INSERT, UPDATE ON calendar_feed, calendar_date, day_mail TO oothecary_app;

-- Whose calendar a key opens, and who is due, is asked before any workspace is known.
GRANT SELECT ON calendar_feed, day_mail TO oothecary_auth;
CREATE POLICY look_up ON calendar_feed FOR SELECT TO oothecary_auth USING (true);
CREATE POLICY look_up ON day_mail FOR SELECT TO oothecary_auth USING (true);

ALTER TABLE calendar_date ADD CONSTRAINT calendar_date_days CHECK (ends_on >= starts_on AND sequence >= 0);
ALTER TABLE day_mail ADD CONSTRAINT day_mail_hour CHECK (hour BETWEEN 0 AND 23);
