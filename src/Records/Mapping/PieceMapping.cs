using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Mapping;

internal sealed class OwnerMapping : IEntityTypeConfiguration<Owner>
{
    public void Configure(EntityTypeBuilder<Owner> builder)
    {
        builder.HasIndex(o => o.Name);
        builder.HasMany(o => o.Pieces).WithOne(p => p.Owner).HasForeignKey(p => p.OwnerId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class PieceMapping : IEntityTypeConfiguration<Piece>
{
    public void Configure(EntityTypeBuilder<Piece> builder)
    {
        builder.HasMany(p => p.Visits).WithOne(v => v.Piece).HasForeignKey(v => v.PieceId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne(p => p.Set).WithMany().HasForeignKey(p => p.SetId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(p => new { p.Kind, p.LengthMm });
    }
}

internal sealed class VisitMapping : IEntityTypeConfiguration<Visit>
{
    public void Configure(EntityTypeBuilder<Visit> builder)
    {
        builder.HasIndex(v => v.Tag).IsUnique();
        builder.HasIndex(v => v.HandBackId);
        builder.HasIndex(v => v.HappenedAt);
        builder.HasIndex(v => v.ComplaintAboutId).HasFilter("\"ComplaintAboutId\" IS NOT NULL"); // nearly none is a complaint: without the filter a month's takings would start from all that are not
        builder.HasOne(v => v.Intake).WithMany(i => i.Visits).HasForeignKey(v => v.IntakeId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class IntakeMapping : IEntityTypeConfiguration<Intake>
{
    public void Configure(EntityTypeBuilder<Intake> builder) => builder.HasIndex(i => i.OwnerId);
}

internal sealed class PhotoMapping : IEntityTypeConfiguration<Photo>
{
    public void Configure(EntityTypeBuilder<Photo> builder)
    {
        builder.HasIndex(p => p.Hash);
        builder.HasOne(p => p.Visit).WithMany().HasForeignKey(p => p.VisitId).OnDelete(DeleteBehavior.Restrict);
    }
}

internal sealed class RigMapping : IEntityTypeConfiguration<RigKept>
{
    public void Configure(EntityTypeBuilder<RigKept> builder) =>
        builder.HasMany(r => r.Wheels).WithOne(w => w.Rig).HasForeignKey(w => w.RigId).OnDelete(DeleteBehavior.Restrict);
}

internal sealed class DiameterMapping : IEntityTypeConfiguration<DiameterEntry>
{
    public void Configure(EntityTypeBuilder<DiameterEntry> builder) => builder.HasIndex(d => d.WheelId);
}

internal sealed class RigStandMapping : IEntityTypeConfiguration<RigStand>
{
    public void Configure(EntityTypeBuilder<RigStand> builder) => builder.HasIndex(d => d.RigId);
}

internal sealed class CorrectionMapping : IEntityTypeConfiguration<CorrectionApplied>
{
    public void Configure(EntityTypeBuilder<CorrectionApplied> builder) => builder.HasIndex(c => c.RigId);
}

internal sealed class BenchDayMapping : IEntityTypeConfiguration<BenchDayPlanned>
{
    public void Configure(EntityTypeBuilder<BenchDayPlanned> builder) => builder.HasIndex(d => d.Day);
}

internal sealed class PaymentMapping : IEntityTypeConfiguration<Payment>
{
    public void Configure(EntityTypeBuilder<Payment> builder)
    {
        builder.HasIndex(p => p.OwnerId);
        builder.HasIndex(p => p.VisitId);
        builder.HasIndex(p => p.IntakeId);
        builder.HasIndex(p => p.HappenedAt);
    }
}

internal sealed class ChargeMapping : IEntityTypeConfiguration<Charge>
{
    public void Configure(EntityTypeBuilder<Charge> builder) => builder.HasIndex(c => c.HappenedAt);
}

internal sealed class SubmissionMapping : IEntityTypeConfiguration<Submission>
{
    public void Configure(EntityTypeBuilder<Submission> builder)
    {
        builder.HasKey(s => s.Token);
        builder.Property(s => s.Token).HasMaxLength(64);
    }
}

internal sealed class ShopMapping : IEntityTypeConfiguration<ShopCard>
{
    public void Configure(EntityTypeBuilder<ShopCard> builder) => builder.Property(s => s.Id).ValueGeneratedNever();
}
