-- People, tokens, intakes, jobs, saved views, stop notices, the history of scores; who entered, corrected and withdrew.
-- AlterTable
ALTER TABLE "changes" ADD COLUMN     "corrects_hash" BYTEA,
ADD COLUMN     "entered_by" UUID,
ADD COLUMN     "intake_id" UUID,
ADD COLUMN     "supersedes_id" UUID,
ADD COLUMN     "withdrawn_by" UUID;

-- AlterTable
ALTER TABLE "checks" ADD COLUMN     "corrects_hash" BYTEA,
ADD COLUMN     "entered_by" UUID,
ADD COLUMN     "intake_id" UUID,
ADD COLUMN     "supersedes_id" UUID,
ADD COLUMN     "withdrawn_by" UUID;

-- AlterTable
ALTER TABLE "codes" ADD COLUMN     "corrects_hash" BYTEA,
ADD COLUMN     "entered_by" UUID,
ADD COLUMN     "intake_id" UUID,
ADD COLUMN     "supersedes_id" UUID,
ADD COLUMN     "withdrawn_by" UUID;

-- AlterTable
ALTER TABLE "libraries" ADD COLUMN     "entered_by" UUID,
ADD COLUMN     "note" TEXT;

-- AlterTable
ALTER TABLE "readings" ADD COLUMN     "corrects_hash" BYTEA,
ADD COLUMN     "entered_by" UUID,
ADD COLUMN     "intake_id" UUID,
ADD COLUMN     "supersedes_id" UUID,
ADD COLUMN     "withdrawn_by" UUID;

-- AlterTable
ALTER TABLE "repairs" ADD COLUMN     "corrects_hash" BYTEA,
ADD COLUMN     "entered_by" UUID,
ADD COLUMN     "intake_id" UUID,
ADD COLUMN     "supersedes_id" UUID,
ADD COLUMN     "withdrawn_by" UUID;

-- AlterTable
ALTER TABLE "vehicle_scores" ADD COLUMN     "records_version" BIGINT NOT NULL DEFAULT 0;

-- AlterTable
ALTER TABLE "vehicles" ADD COLUMN     "entered_by" UUID,
ADD COLUMN     "intake_id" UUID,
ADD COLUMN     "records_version" BIGINT NOT NULL DEFAULT 1,
ADD COLUMN     "scored_from" TEXT,
ADD COLUMN     "usage_facts" JSON,
ADD COLUMN     "usage_facts_as_of" DATE,
ADD COLUMN     "usage_facts_version" BIGINT,
ADD COLUMN     "withdrawn_at" TIMESTAMPTZ(3),
ADD COLUMN     "withdrawn_by" UUID;

-- CreateTable
CREATE TABLE "vehicle_versions" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "before" JSONB,
    "replaced_at" TIMESTAMPTZ(3) NOT NULL,
    "replaced_by" UUID,
    "intake_id" UUID,

    CONSTRAINT "vehicle_versions_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "score_history" (
    "organisation_id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "weak_point" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "horizon_days" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "scored_at" TIMESTAMPTZ(3) NOT NULL,
    "p_fail" DOUBLE PRECISION NOT NULL,
    "p_low" DOUBLE PRECISION NOT NULL,
    "p_high" DOUBLE PRECISION NOT NULL,
    "advice" TEXT NOT NULL,
    "library_version" INTEGER NOT NULL,

    CONSTRAINT "score_history_pkey" PRIMARY KEY ("organisation_id","vehicle_id","weak_point","position","horizon_days","scored_at")
);

-- CreateTable
CREATE TABLE "class_rates" (
    "organisation_id" UUID NOT NULL,
    "class" TEXT NOT NULL,
    "as_of" DATE NOT NULL,
    "rates" JSON NOT NULL,

    CONSTRAINT "class_rates_pkey" PRIMARY KEY ("organisation_id","class")
);

-- CreateTable
CREATE TABLE "intakes" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "state" TEXT NOT NULL,
    "made_by" UUID,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "done_at" TIMESTAMPTZ(3),
    "taken_back_at" TIMESTAMPTZ(3),
    "summary" JSONB,

    CONSTRAINT "intakes_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "intake_files" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "intake_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT,
    "content" BYTEA NOT NULL,
    "hash" BYTEA NOT NULL,
    "accepted" INTEGER NOT NULL DEFAULT 0,
    "unchanged" INTEGER NOT NULL DEFAULT 0,
    "superseded" INTEGER NOT NULL DEFAULT 0,
    "rejected" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "intake_files_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "rejected_rows" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "intake_id" UUID NOT NULL,
    "file_id" UUID NOT NULL,
    "line" INTEGER NOT NULL,
    "column" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "row" TEXT NOT NULL,
    "mended_at" TIMESTAMPTZ(3),

    CONSTRAINT "rejected_rows_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "jobs" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "done" INTEGER NOT NULL DEFAULT 0,
    "total" INTEGER,
    "message" TEXT,
    "started_at" TIMESTAMPTZ(3) NOT NULL,
    "finished_at" TIMESTAMPTZ(3),
    "made_by" UUID,

    CONSTRAINT "jobs_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "tokens" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "secret_hash" BYTEA NOT NULL,
    "made_by" UUID,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "last_used_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "tokens_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "idempotency_keys" (
    "organisation_id" UUID NOT NULL,
    "token_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "body_hash" BYTEA NOT NULL,
    "status" INTEGER NOT NULL,
    "content_type" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "idempotency_keys_pkey" PRIMARY KEY ("organisation_id","token_id","key")
);

-- CreateTable
CREATE TABLE "saved_views" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "address" TEXT NOT NULL,
    "made_by" UUID,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "saved_views_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "stop_notices" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "weak_point" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "raised_at" TIMESTAMPTZ(3) NOT NULL,
    "reason" TEXT NOT NULL,
    "told_by" UUID,
    "told_whom" TEXT,
    "told_at" TIMESTAMPTZ(3),
    "parked_at" TIMESTAMPTZ(3),
    "parked_by" UUID,
    "released_at" TIMESTAMPTZ(3),
    "released_by" UUID,
    "released_because" TEXT,

    CONSTRAINT "stop_notices_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "memberships" (
    "organisation_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "memberships_pkey" PRIMARY KEY ("organisation_id","person_id")
);

-- CreateTable
CREATE TABLE "people" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "email_verified" BOOLEAN NOT NULL DEFAULT false,
    "image" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "people_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sessions" (
    "id" TEXT NOT NULL,
    "user_id" UUID NOT NULL,
    "token" TEXT NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "ip_address" TEXT,
    "user_agent" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "sessions_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "accounts" (
    "id" TEXT NOT NULL,
    "account_id" TEXT NOT NULL,
    "provider_id" TEXT NOT NULL,
    "user_id" UUID NOT NULL,
    "access_token" TEXT,
    "refresh_token" TEXT,
    "id_token" TEXT,
    "access_token_expires_at" TIMESTAMPTZ(3),
    "refresh_token_expires_at" TIMESTAMPTZ(3),
    "scope" TEXT,
    "password" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "accounts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "verifications" (
    "id" TEXT NOT NULL,
    "identifier" TEXT NOT NULL,
    "value" TEXT NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "verifications_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "rate_limits" (
    "id" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "last_request" BIGINT NOT NULL,

    CONSTRAINT "rate_limits_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "vehicle_versions_organisation_id_vehicle_id_idx" ON "vehicle_versions"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "intake_files_organisation_id_intake_id_idx" ON "intake_files"("organisation_id", "intake_id");

-- CreateIndex
CREATE INDEX "rejected_rows_organisation_id_intake_id_idx" ON "rejected_rows"("organisation_id", "intake_id");

-- CreateIndex
CREATE INDEX "rejected_rows_organisation_id_file_id_idx" ON "rejected_rows"("organisation_id", "file_id");

-- CreateIndex
CREATE INDEX "jobs_organisation_id_kind_started_at_idx" ON "jobs"("organisation_id", "kind", "started_at");

-- CreateIndex
CREATE INDEX "idempotency_keys_organisation_id_made_at_idx" ON "idempotency_keys"("organisation_id", "made_at");

-- CreateIndex
CREATE UNIQUE INDEX "saved_views_organisation_id_name_key" ON "saved_views"("organisation_id", "name");

-- CreateIndex
CREATE INDEX "stop_notices_organisation_id_vehicle_id_idx" ON "stop_notices"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "memberships_person_id_idx" ON "memberships"("person_id");

-- CreateIndex
CREATE UNIQUE INDEX "people_email_key" ON "people"("email");

-- CreateIndex
CREATE UNIQUE INDEX "sessions_token_key" ON "sessions"("token");

-- CreateIndex
CREATE INDEX "sessions_user_id_idx" ON "sessions"("user_id");

-- CreateIndex
CREATE INDEX "accounts_user_id_idx" ON "accounts"("user_id");

-- CreateIndex
CREATE INDEX "verifications_identifier_idx" ON "verifications"("identifier");

-- CreateIndex
CREATE UNIQUE INDEX "rate_limits_key_key" ON "rate_limits"("key");

-- AddForeignKey
ALTER TABLE "vehicle_versions" ADD CONSTRAINT "vehicle_versions_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "score_history" ADD CONSTRAINT "score_history_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "intake_files" ADD CONSTRAINT "intake_files_organisation_id_intake_id_fkey" FOREIGN KEY ("organisation_id", "intake_id") REFERENCES "intakes"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "rejected_rows" ADD CONSTRAINT "rejected_rows_organisation_id_intake_id_fkey" FOREIGN KEY ("organisation_id", "intake_id") REFERENCES "intakes"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "rejected_rows" ADD CONSTRAINT "rejected_rows_organisation_id_file_id_fkey" FOREIGN KEY ("organisation_id", "file_id") REFERENCES "intake_files"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "idempotency_keys" ADD CONSTRAINT "idempotency_keys_organisation_id_token_id_fkey" FOREIGN KEY ("organisation_id", "token_id") REFERENCES "tokens"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stop_notices" ADD CONSTRAINT "stop_notices_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "people"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sessions" ADD CONSTRAINT "sessions_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "people"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "accounts" ADD CONSTRAINT "accounts_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "people"("id") ON DELETE CASCADE ON UPDATE CASCADE;



-- By hand from here on: what schema.prisma cannot say.

-- The same `ref` is one record, the later over the earlier, in the place of the first. Records that were
-- brought in before this held are put in order, with a withdrawn one left as it is.
DO $$
DECLARE kind text;
BEGIN
    FOREACH kind IN ARRAY ARRAY['readings', 'codes', 'checks', 'repairs', 'changes'] LOOP
        -- Their owner too is held by it, unless a superuser; this is for all organisations at once.
        EXECUTE format('ALTER TABLE %I NO FORCE ROW LEVEL SECURITY', kind);
        EXECUTE format('
            WITH chain AS (
                SELECT organisation_id, id, first_value(sequence) OVER same_ref AS place, lag(id) OVER same_ref AS earlier,
                    lead(id) OVER same_ref AS later, lead(entered_at) OVER same_ref AS later_at
                FROM %1$I WHERE ref IS NOT NULL AND superseded_at IS NULL AND withdrawn_at IS NULL
                WINDOW same_ref AS (PARTITION BY organisation_id, ref ORDER BY sequence))
            UPDATE %1$I record SET sequence = chain.place, supersedes_id = chain.earlier, superseded_by = chain.later,
                superseded_at = chain.later_at
            FROM chain WHERE (record.organisation_id, record.id) = (chain.organisation_id, chain.id)
                AND (chain.earlier IS NOT NULL OR chain.later IS NOT NULL)', kind);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', kind);
        EXECUTE format('CREATE UNIQUE INDEX %I ON %I (organisation_id, ref) WHERE ref IS NOT NULL AND superseded_at IS NULL AND withdrawn_at IS NULL', kind || '_same_ref', kind);
        EXECUTE format('CREATE UNIQUE INDEX %I ON %I (organisation_id, sequence) WHERE superseded_at IS NULL AND withdrawn_at IS NULL', kind || '_one_live', kind);
        EXECUTE format('CREATE INDEX %I ON %I (organisation_id, corrects_hash) WHERE corrects_hash IS NOT NULL AND superseded_at IS NULL AND withdrawn_at IS NULL', kind || '_stands_for', kind);
        EXECUTE format('CREATE INDEX %I ON %I (organisation_id, intake_id) WHERE intake_id IS NOT NULL', kind || '_of_intake', kind);
    END LOOP;
END $$;

-- Words of which there are but a few.
ALTER TABLE "intakes" ADD CONSTRAINT "intakes_state" CHECK ("state" IN ('staged', 'done', 'taken-back', 'failed'));
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_state" CHECK ("state" IN ('running', 'done', 'failed'));
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_role" CHECK ("role" IN ('owner', 'planner', 'technician', 'reader'));
ALTER TABLE "tokens" ADD CONSTRAINT "tokens_role" CHECK ("role" IN ('owner', 'planner', 'technician', 'reader'));
ALTER TABLE "score_history" ADD CONSTRAINT "score_history_chances" CHECK (
    "p_fail" BETWEEN 0 AND 1 AND "p_low" BETWEEN 0 AND 1 AND "p_high" BETWEEN 0 AND 1);

-- Work of one kind goes on once at a time in an organisation.
CREATE UNIQUE INDEX "jobs_one_running" ON "jobs"("organisation_id", "kind") WHERE "state" = 'running';

-- Row-level security, as for the first tables.
DO $$
DECLARE name text;
BEGIN
    FOREACH name IN ARRAY ARRAY['vehicle_versions', 'score_history', 'class_rates', 'intakes', 'intake_files', 'rejected_rows', 'jobs', 'tokens', 'idempotency_keys', 'saved_views', 'stop_notices', 'memberships'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', name);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name);
        EXECUTE format('CREATE POLICY own_organisation ON %I USING (organisation_id = nullif(current_setting(''gudgeon.organisation'', true), '''')::uuid)', name);
    END LOOP;
END $$;

-- Whoever signs in sees where they belong before an organisation is named; written is from inside one alone.
CREATE POLICY own_membership ON "memberships" FOR SELECT
    USING (person_id = nullif(current_setting('gudgeon.person', true), '')::uuid);
