-- How right the scores of past days would have been.
-- CreateTable
CREATE TABLE "replays" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "draft_id" UUID,
    "library_version" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "learned" BOOLEAN NOT NULL,
    "content" TEXT NOT NULL,
    "comparison" TEXT,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,

    CONSTRAINT "replays_pkey" PRIMARY KEY ("organisation_id","id")
);

-- By hand: row-level security, as for the other tables.
ALTER TABLE "replays" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "replays" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "replays" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);

-- By hand: the library in force is replayed once at a time; and a job that somebody stopped has neither failed nor been done.
CREATE UNIQUE INDEX "jobs_one_replay" ON "jobs"("organisation_id") WHERE "state" = 'running' AND "kind" = 'replay';
ALTER TABLE "jobs" DROP CONSTRAINT "jobs_state";
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_state" CHECK ("state" IN ('running', 'done', 'failed', 'stopped'));
