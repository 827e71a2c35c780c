-- Who was asked to join an organisation, and when its people were last here.
-- AlterTable
ALTER TABLE "memberships" ADD COLUMN     "last_seen_at" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "invitations" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "mail" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "secret_hash" BYTEA NOT NULL,
    "made_by" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "accepted_by" UUID,
    "accepted_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "invitations_pkey" PRIMARY KEY ("organisation_id","id")
);

-- By hand: row-level security, as for the other tables; and of the invitations to one address one can be open.
ALTER TABLE "invitations" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "invitations" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "invitations" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
CREATE UNIQUE INDEX "invitations_open" ON "invitations"("organisation_id", "mail") WHERE accepted_at IS NULL AND withdrawn_at IS NULL;

-- What people change of them stands in the audit trail; that somebody looked at a page does not.
SELECT "audit"."watch"('memberships', '{made_at, last_seen_at}', subject => '@.person_id');
SELECT "audit"."watch"('invitations', '{made_by, made_at, accepted_by}', '{secret_hash}');
