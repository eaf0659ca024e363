using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Whetwright.Records.Backup;
using Whetwright.Records.Bench;
using Whetwright.Records.Changes;
using Whetwright.Records.Csv;
using Whetwright.Records.Gauges;
using Whetwright.Records.History;
using Whetwright.Records.Kit;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Photos;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;

namespace Whetwright.Records;

/// <summary>What reads and writes the book, whichever database holds it. A provider's own door calls this.</summary>
public static class BookServices
{
    /// <summary>Adds clock, writers and queries.</summary>
    public static IServiceCollection AddBookVerbs(this IServiceCollection services, BookOptions options)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton(options);
        services.AddSingleton<BookClock>().AddSingleton<BookWriter>();
        services.AddSingleton<OwnerDesk>().AddSingleton<OwnerQuery>();
        services.AddSingleton<PieceDesk>().AddSingleton<PieceQuery>().AddSingleton<SetDesk>().AddSingleton<SetQuery>();
        services.AddSingleton<IntakeDesk>().AddSingleton<HandBackDesk>().AddSingleton<VisitDesk>().AddSingleton<TagNumbers>();
        services.AddSingleton<StandingQuery>().AddSingleton<RackQuery>().AddSingleton<LastTimeQuery>();
        services.AddSingleton<PriceList>().AddSingleton<Takings>().AddSingleton<AccountQuery>().AddSingleton<LoadQuery>();
        services.TryAddSingleton(new PhotoBounds());
        services.TryAddSingleton<IPhotoShelf, PhotoFolder>();
        services.AddSingleton<IPhotoStore, PhotoStore>();
        services.AddSingleton<BookBackup>().AddSingleton<BookExport>().AddSingleton<BookImport>();
        services.AddSingleton<BookQuery>().AddSingleton<ChangeQuery>();
        services.AddSingleton<Privacy.OwnerErasure>().AddSingleton<Privacy.OwnerExport>().AddSingleton<Privacy.Retention>().AddSingleton<Health.BookDoctor>();
        services.AddSingleton<BenchVisitQuery>().AddSingleton<BenchWorkQuery>();
        services.AddSingleton<BenchLog>().AddSingleton<Till>();
        services.AddSingleton<KitDesk>().AddSingleton<KitQuery>();
        services.AddSingleton<GaugeDesk>().AddSingleton<GaugeQuery>().AddSingleton<BenchTimesQuery>();
        services.AddSingleton<EdgeHistoryQuery>().AddSingleton<ReplayQuery>();
        return services;
    }

    /// <summary>Opens the book: call once before anything else.</summary>
    public static Task OpenBookAsync(this IServiceProvider services, CancellationToken cancel = default) =>
        services.GetRequiredService<BookDoor>().OpenAsync(cancel);
}
