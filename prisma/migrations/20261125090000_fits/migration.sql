-- What was learned from an organisation's own lives.
-- CreateTable
CREATE TABLE "fits" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "library_version" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "renewals" INTEGER NOT NULL,
    "content" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,

    CONSTRAINT "fits_pkey" PRIMARY KEY ("organisation_id","id")
);

-- By hand: row-level security, as for the other tables.
ALTER TABLE "fits" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "fits" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "fits" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);

-- By hand: learning is under way once at a time.
CREATE UNIQUE INDEX "jobs_one_refit" ON "jobs"("organisation_id") WHERE "state" = 'running' AND "kind" = 'refit';
