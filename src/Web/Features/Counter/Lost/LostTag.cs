using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Blades;
using Whetwright.Core.Targets;
using Whetwright.Formats.Results;
using Whetwright.Records;
using Whetwright.Records.Pieces;
using Whetwright.Sight.Outlines;
using Whetwright.Web.Features.Bench.Read;
using Whetwright.Web.Features.Rack;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Counter.Lost;

/// <summary>What is known of a piece that lost its tag.</summary>
public sealed class LostForm : WebForm
{
    internal LostForm(UnitsView units, IReadOnlyList<Choice> sets)
    {
        Kind = Add(new ChoiceField("kind", "Kind", [.. PieceKinds.All.Select(k => new Choice(k.Key(), BenchWords.Kind(k)))]) { List = true });
        Length = Add(new LengthField("length", "Length of the edge", units) { MinMm = 1, MaxMm = 2000 });
        Within = Add(new LengthField("within", "Give or take", units) { MinMm = 0, MaxMm = 500 }).Fill(Core.Quantities.Length.FromMillimetres(10));
        Words = Add(new TextField("words", "Words: owner, name, steel, slot") { MaxLength = 120 });
        Set = Add(new ChoiceField("set", "Of the set", sets) { List = true });
        Photo = Add(new PhotoField("photo", "Photo of it on the mat") { Hint = "Laid on the outlines of the pieces here; from straight above, heel and tip clear." });
        Mat = Add(new ChoiceField("mat", "The mat", [new("a3", "A3"), new("a4", "A4"), new("a4x2", "Two A4 side by side"), new("tabloid", "Tabloid"), new("letter", "Letter")]) { List = true, Required = true }).Fill("a3");
        EdgeHeight = Add(new LengthField("edgeHeight", "How high the edge floats over the mat", units) { MinMm = 0, MaxMm = 60, Hint = "Half the spine where the blade lies on its flank." });
    }

    /// <summary>Kind.</summary>
    public ChoiceField Kind { get; }

    /// <summary>Length.</summary>
    public LengthField Length { get; }

    /// <summary>Tolerance.</summary>
    public LengthField Within { get; }

    /// <summary>Words.</summary>
    public TextField Words { get; }

    /// <summary>Set.</summary>
    public ChoiceField Set { get; }

    /// <summary>Photo on the mat.</summary>
    public PhotoField Photo { get; }

    /// <summary>The mat.</summary>
    public ChoiceField Mat { get; }

    /// <summary>Edge over the mat.</summary>
    public LengthField EdgeHeight { get; }

    internal MatSheet Sheet => Mat.Value switch
    {
        "a4" => MatLayout.For(KnownPaperSizes.A4, 1).Sheet,
        "a4x2" => MatLayout.For(KnownPaperSizes.A4, 2).Sheet,
        "tabloid" => MatLayout.For(KnownPaperSizes.Tabloid, 1).Sheet,
        "letter" => MatLayout.For(KnownPaperSizes.Letter, 1).Sheet,
        _ => MatLayout.For(KnownPaperSizes.A3, 1).Sheet,
    };

    /// <inheritdoc/>
    protected override void CheckTogether()
    {
        if (Kind.Value is null && Length.Value is null && Words.Value is null && Set.Value is null && Photo.Files.Count == 0)
            Refuse("Nothing is told of the piece; its kind, length, owner, set or a photo on the mat would be right");
    }
}

/// <summary>A piece that it may be.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Probability">Odds by the outline; null where none was compared.</param>
/// <param name="DistanceMm">Misfit of the outlines.</param>
public sealed record LostMatch(PieceFound Piece, double? Probability, double? DistanceMm);

/// <summary>What the page shows.</summary>
/// <param name="Form">What is known.</param>
/// <param name="Found">Pieces here that fit; null before the search.</param>
/// <param name="Stranger">Odds that it is none of those compared.</param>
/// <param name="Without">Pieces that fit but have no outline to compare.</param>
public sealed record LostModel(LostForm Form, IReadOnlyList<LostMatch>? Found, double? Stranger, int Without);

/// <summary>Finds the piece whose tag is lost.</summary>
internal static class LostTag
{
    public static async Task<IResult> ShowAsync(IDbContextFactory<BookContext> books, UnitsView units, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return Of(new(new(units, await SetsAsync(db, cancel)), null, null, 0));
    }

    public static async Task<IResult> FindAsync(HttpContext http, IDbContextFactory<BookContext> books, PieceQuery pieces, BenchPhotos photos, UnitsView units, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        LostForm form = new(units, await SetsAsync(db, cancel));
        if (!await form.ReadAsync(http))
            return Of(new(form, null, null, 0));
        IReadOnlyList<PieceFound> fitting = await pieces.FindAsync(new PieceWanted
        {
            Typed = form.Words.Value,
            Kind = PieceKinds.FromKey(form.Kind.Typed),
            LengthMm = form.Length.Value?.Millimetres,
            WithinMm = form.Within.Value?.Millimetres ?? 10,
            SetId = long.TryParse(form.Set.Value, NumberStyles.None, CultureInfo.InvariantCulture, out long set) ? set : null,
            HereOnly = true,
            Most = 200,
        }, cancel);
        if (form.Photo.Files.Count == 0)
            return Of(new(form, [.. fitting.Select(p => new LostMatch(p, null, null))], null, 0));
        return await ByOutlineAsync(db, form, fitting, photos, cancel);
    }

    private static async Task<IResult> ByOutlineAsync(BookContext db, LostForm form, IReadOnlyList<PieceFound> fitting, BenchPhotos photos, CancellationToken cancel)
    {
        byte[] bytes = await BenchPhotos.BytesAsync(form.Photo.Files[0], cancel);
        TraceResult traced;
        try
        {
            (traced, _) = await photos.OneAtATimeAsync(() => Tracing.Trace(PhotoSource.Bytes("The photo", bytes), null, form.Sheet, form.EdgeHeight.Value?.Millimetres), cancel);
        }
        catch (ArgumentException e)
        {
            form.Photo.Refuse(Faults.Plain(e));
            return Of(new(form, null, null, 0));
        }

        if (StoredOutline.Of(traced) is not { } seen)
        {
            form.Photo.Refuse(traced.Reasons.Count == 0 ? "shows no outline that could be traced; a photo from straight above would be right" : string.Join(" ", traced.Reasons.Select(r => r.Text)));
            return Of(new(form, null, null, 0));
        }

        long[] ids = [.. fitting.Select(p => p.Id)];
        var kept = await db.Outlines.AsNoTracking().Standing().Where(o => ids.Contains(o.Visit!.PieceId) && o.ResultJson != null)
            .OrderBy(o => o.HappenedAt).Select(o => new { o.Visit!.PieceId, o.ResultJson }).ToListAsync(cancel);
        Dictionary<string, OutlineShape> book = new(StringComparer.Ordinal);
        foreach (var one in kept)
        {
            if (StoredOutline.Of(one.ResultJson) is { } shape)
                book[one.PieceId.ToString(CultureInfo.InvariantCulture)] = shape;
        }

        (IReadOnlyList<PieceMatch> matches, double stranger) = OutlineBook.Recognise(seen, book);
        Dictionary<string, PieceFound> byId = fitting.ToDictionary(p => p.Id.ToString(CultureInfo.InvariantCulture), StringComparer.Ordinal);
        List<LostMatch> found = [.. matches.Select(m => new LostMatch(byId[m.Id], m.Probability, m.DistanceMm))];
        List<PieceFound> without = [.. fitting.Where(p => !book.ContainsKey(p.Id.ToString(CultureInfo.InvariantCulture)))];
        return Of(new(form, [.. found, .. without.Select(p => new LostMatch(p, null, null))], stranger, without.Count));
    }

    private static async Task<IReadOnlyList<Choice>> SetsAsync(BookContext db, CancellationToken cancel)
    {
        var here = await db.Visits.Where(v => v.HandBackId == null && v.Piece!.SetId != null).Select(v => new { v.Piece!.Set!.Id, v.Piece.Set.Name, Owner = v.Piece.Owner!.Name }).Distinct().ToListAsync(cancel);
        return [.. here.OrderBy(s => s.Owner, StringComparer.Ordinal).Select(s => new Choice(s.Id.ToString(CultureInfo.InvariantCulture), $"{s.Owner}: {s.Name}"))];
    }

    private static IResult Of(LostModel model) => Page.Of<LostPage>("Lost tag", model, Room.Counter, model.Form.Status);
}
