-- Engine families that somebody is still stating.
-- CreateTable
CREATE TABLE "library_drafts" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "family" JSON NOT NULL,
    "made_by" UUID,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "library_drafts_pkey" PRIMARY KEY ("organisation_id","id")
);

-- By hand: row-level security, as for the other tables.
ALTER TABLE "library_drafts" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "library_drafts" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "library_drafts" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
