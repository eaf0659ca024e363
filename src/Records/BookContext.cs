using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using Whetwright.Core.Blades;
using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Records.Changes;
using Whetwright.Records.Kit;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;

namespace Whetwright.Records;

/// <summary>The shop's book. One model for every database; a short-lived one per operation.</summary>
public sealed class BookContext(DbContextOptions<BookContext> options) : DbContext(options)
{
    /// <summary>Owners.</summary>
    public DbSet<Owner> Owners => Set<Owner>();

    /// <summary>Pieces.</summary>
    public DbSet<Piece> Pieces => Set<Piece>();

    /// <summary>Sets of alike pieces.</summary>
    public DbSet<PieceSet> PieceSets => Set<PieceSet>();

    /// <summary>Counts of sets.</summary>
    public DbSet<SetCount> SetCounts => Set<SetCount>();

    /// <summary>Loan sets.</summary>
    public DbSet<LoanSet> LoanSets => Set<LoanSet>();

    /// <summary>Loans.</summary>
    public DbSet<Loan> Loans => Set<Loan>();

    /// <summary>Visits.</summary>
    public DbSet<Visit> Visits => Set<Visit>();

    /// <summary>Receipts.</summary>
    public DbSet<Intake> Intakes => Set<Intake>();

    /// <summary>Hand-backs.</summary>
    public DbSet<HandBack> HandBacks => Set<HandBack>();

    /// <summary>Notices that a piece is ready.</summary>
    public DbSet<ReadyNotice> ReadyNotices => Set<ReadyNotice>();

    /// <summary>Notes of visits.</summary>
    public DbSet<VisitNote> VisitNotes => Set<VisitNote>();

    /// <summary>Mounts.</summary>
    public DbSet<Mount> Mounts => Set<Mount>();

    /// <summary>Readings.</summary>
    public DbSet<Reading> Readings => Set<Reading>();

    /// <summary>Outlines.</summary>
    public DbSet<OutlineTaken> Outlines => Set<OutlineTaken>();

    /// <summary>Sections measured.</summary>
    public DbSet<SectionMeasured> Sections => Set<SectionMeasured>();

    /// <summary>Steels noted.</summary>
    public DbSet<SteelNoted> Steels => Set<SteelNoted>();

    /// <summary>Angles chosen.</summary>
    public DbSet<AimChosen> Aims => Set<AimChosen>();

    /// <summary>Settings.</summary>
    public DbSet<SettingMade> Settings => Set<SettingMade>();

    /// <summary>Touch-offs.</summary>
    public DbSet<TouchOff> TouchOffs => Set<TouchOff>();

    /// <summary>Passes.</summary>
    public DbSet<Passes> Passes => Set<Passes>();

    /// <summary>Other things at the bench.</summary>
    public DbSet<BenchEvent> BenchEvents => Set<BenchEvent>();

    /// <summary>Steps closed, skipped, reopened.</summary>
    public DbSet<StepMark> StepMarks => Set<StepMark>();

    /// <summary>Cut tests.</summary>
    public DbSet<CutTest> CutTests => Set<CutTest>();

    /// <summary>Photos.</summary>
    public DbSet<Photo> Photos => Set<Photo>();

    /// <summary>Rigs.</summary>
    public DbSet<RigKept> Rigs => Set<RigKept>();

    /// <summary>Where rigs stand.</summary>
    public DbSet<RigStand> RigStands => Set<RigStand>();

    /// <summary>Wheels.</summary>
    public DbSet<WheelKept> Wheels => Set<WheelKept>();

    /// <summary>Diameters.</summary>
    public DbSet<DiameterEntry> Diameters => Set<DiameterEntry>();

    /// <summary>Abrasives and strops.</summary>
    public DbSet<AbrasiveKept> Abrasives => Set<AbrasiveKept>();

    /// <summary>Instruments.</summary>
    public DbSet<InstrumentKept> Instruments => Set<InstrumentKept>();

    /// <summary>House rules.</summary>
    public DbSet<HouseRule> HouseRules => Set<HouseRule>();

    /// <summary>Price list.</summary>
    public DbSet<PriceLine> Prices => Set<PriceLine>();

    /// <summary>Tax rates.</summary>
    public DbSet<TaxRate> TaxRates => Set<TaxRate>();

    /// <summary>Charges.</summary>
    public DbSet<Charge> Charges => Set<Charge>();

    /// <summary>Payments.</summary>
    public DbSet<Payment> Payments => Set<Payment>();

    /// <summary>The shop: one row.</summary>
    public DbSet<ShopCard> Shop => Set<ShopCard>();

    /// <summary>Forms saved.</summary>
    public DbSet<Submission> Submissions => Set<Submission>();

    /// <summary>Gauge studies.</summary>
    public DbSet<GaugeStudyKept> GaugeStudies => Set<GaugeStudyKept>();

    /// <summary>Corrections applied.</summary>
    public DbSet<CorrectionApplied> Corrections => Set<CorrectionApplied>();

    /// <summary>Checks of instruments.</summary>
    public DbSet<InstrumentCheck> InstrumentChecks => Set<InstrumentCheck>();

    /// <summary>Orders of bench days.</summary>
    public DbSet<BenchDayPlanned> BenchDays => Set<BenchDayPlanned>();

    /// <summary>Tags set aside on paper.</summary>
    public DbSet<TagBlock> TagBlocks => Set<TagBlock>();

    /// <summary>Who changed what.</summary>
    public DbSet<Change> Changes => Set<Change>();

    /// <inheritdoc/>
    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        Guard();
        ChangeWatch? watch = ChangeWatch.Of(ChangeTracker);
        int saved = base.SaveChanges(acceptAllChangesOnSuccess);
        if (watch is null)
            return saved;
        Changes.AddRange(watch.Rows(DateTime.UtcNow));
        _ = base.SaveChanges(acceptAllChangesOnSuccess);
        return saved;
    }

    /// <inheritdoc/>
    public override async Task<int> SaveChangesAsync(bool acceptAllChangesOnSuccess, CancellationToken cancellationToken = default)
    {
        Guard();
        ChangeWatch? watch = ChangeWatch.Of(ChangeTracker);
        int saved = await base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
        if (watch is null)
            return saved;
        Changes.AddRange(watch.Rows(DateTime.UtcNow)); // same transaction: every write into the book goes through BookWriter
        _ = await base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
        return saved;
    }

    /// <summary>History is never overwritten, and every save of an editable row counts.</summary>
    private void Guard()
    {
        foreach (var entry in ChangeTracker.Entries())
        {
            if (entry.State is EntityState.Added or EntityState.Modified)
                WithoutNulls(entry);
            if (entry is { Entity: Fact, State: EntityState.Modified or EntityState.Deleted })
                throw new InvalidOperationException($"A {entry.Metadata.ClrType.Name} is never changed or deleted: add one that corrects it.");
            if (entry is { State: EntityState.Modified, Entity: IVersioned row })
                row.Version = entry.Property(nameof(IVersioned.Version)).OriginalValue is int seen ? seen + 1 : row.Version;
        }
    }

    /// <summary>The character U+0000 in a text: no server keeps it, and nobody types it.</summary>
    private static void WithoutNulls(Microsoft.EntityFrameworkCore.ChangeTracking.EntityEntry entry)
    {
        foreach (var property in entry.Properties)
        {
            if (property.CurrentValue is string text && text.Contains('\0', StringComparison.Ordinal))
                property.CurrentValue = text.Replace("\0", "", StringComparison.Ordinal);
        }
    }

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<DateTime>().HaveConversion<UtcConverter>();
        configurationBuilder.Properties<PieceKind>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<ReadingPurpose>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<TargetSource>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<BenchEventKind>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<BenchStep>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<StepState>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<PhotoSubject>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<DiameterCause>().HaveConversion<string>().HaveMaxLength(24);
        configurationBuilder.Properties<AbrasiveForm>().HaveConversion<string>().HaveMaxLength(24);
    }

    /// <inheritdoc/>
    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.ApplyConfigurationsFromAssembly(typeof(BookContext).Assembly);
        foreach (var entity in modelBuilder.Model.GetEntityTypes())
        {
            if (typeof(IVersioned).IsAssignableFrom(entity.ClrType))
                modelBuilder.Entity(entity.ClrType).Property(nameof(IVersioned.Version)).IsConcurrencyToken();
            if (typeof(VisitFact).IsAssignableFrom(entity.ClrType))
            {
                modelBuilder.Entity(entity.ClrType).HasOne(nameof(VisitFact.Visit)).WithMany().HasForeignKey(nameof(VisitFact.VisitId)).OnDelete(DeleteBehavior.Restrict);
                modelBuilder.Entity(entity.ClrType).HasIndex(nameof(VisitFact.VisitId));
            }

            if (typeof(Fact).IsAssignableFrom(entity.ClrType))
                modelBuilder.Entity(entity.ClrType).HasIndex(nameof(Fact.CorrectsId)).HasFilter("\"CorrectsId\" IS NOT NULL"); // nearly every fact corrects nothing
        }
    }

    /// <summary>Stored as UTC in whole microseconds (the finest that every database keeps), and given back as UTC.</summary>
    private sealed class UtcConverter() : ValueConverter<DateTime, DateTime>(t => Kept(t), t => DateTime.SpecifyKind(t, DateTimeKind.Utc))
    {
        private static DateTime Kept(DateTime t)
        {
            DateTime utc = t.Kind == DateTimeKind.Local ? t.ToUniversalTime() : t;
            return new DateTime(utc.Ticks - (utc.Ticks % TimeSpan.TicksPerMicrosecond), DateTimeKind.Utc);
        }
    }
}
