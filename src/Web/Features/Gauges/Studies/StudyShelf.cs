using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Records.Gauges;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Kit;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges.Studies;

/// <summary>A new study: by a grid, or by CSV.</summary>
/// <param name="Grid">The grid.</param>
/// <param name="Csv">By CSV.</param>
/// <param name="Size">How large the grid is.</param>
public sealed record NewStudyModel(StudyGridForm Grid, StudyForm Csv, (int Parts, int People, int Trials) Size)
{
    internal int Status => Math.Max(Grid.Status, Csv.Status);
}

/// <summary>One study worked out.</summary>
/// <param name="Kept">The fact.</param>
/// <param name="Measurements">What was measured.</param>
/// <param name="Study">The result; null where it cannot be worked out.</param>
/// <param name="Why">Why not.</param>
/// <param name="Bars">Shares as a picture.</param>
/// <param name="TolerancePercent">6 standard deviations of the gauge over the tolerance, %; null without one.</param>
public sealed record StudyModel(GaugeStudyKept Kept, IReadOnlyList<GaugeMeasurement> Measurements, CrossedStudy? Study, Reason? Why, Drawing? Bars, double? TolerancePercent);

/// <summary>Gauge studies.</summary>
internal static class StudyShelf
{
    private const int MostCells = 300; // chosen, not derived: more goes by CSV

    public static async Task<IResult> ListAsync(GaugeQuery gauges, UnitsView units, CancellationToken cancel) =>
        Page.Of<StudiesPage>("Gauge studies", (IReadOnlyList<StudyModel>)[.. (await gauges.StudiesAsync(cancel)).Select(k => Worked(k, units))], Room.Gauges);

    public static async Task<IResult> ShowAsync(long id, GaugeQuery gauges, UnitsView units, CancellationToken cancel) =>
        (await gauges.StudiesAsync(cancel)).FirstOrDefault(s => s.Id == id) is { } kept
            ? Page.Of<StudyPage>(kept.Name, Worked(kept, units), Room.Gauges)
            : Page.NotFound("There is no such gauge study.");

    public static IResult New(HttpContext http)
    {
        (int Parts, int People, int Trials) size = Size(http);
        return Of(new(new StudyGridForm(size.Parts, size.People, size.Trials), new StudyForm(), size));
    }

    /// <summary>The grid.</summary>
    public static async Task<IResult> AddAsync(HttpContext http, GaugeDesk desk, BookWriter writer, CancellationToken cancel)
    {
        (int Parts, int People, int Trials) size = Size(http);
        StudyGridForm form = new(size.Parts, size.People, size.Trials);
        NewStudyModel model = new(form, new StudyForm(), size);
        if (!await form.ReadAsync(http))
            return Of(model);
        if (CrossedStudy.Analyse(form.Measurements, out Reason? why) is null)
        {
            form.Refuse(why!.Text);
            return Of(model);
        }

        return await KeepAsync(form, form.Name.Value, form.Unit.Value!, form.Measurements, form.Tolerance.Value, desk, writer, cancel) ?? Of(model);
    }

    /// <summary>By CSV.</summary>
    public static async Task<IResult> BringAsync(HttpContext http, GaugeDesk desk, BookWriter writer, CancellationToken cancel)
    {
        StudyForm form = new();
        NewStudyModel model = new(new StudyGridForm(5, 2, 2), form, (5, 2, 2));
        if (!await form.ReadAsync(http))
            return Of(model);
        FormField from = form.File.Text is null ? form.Text : form.File;
        (IReadOnlyList<GaugeMeasurement> measurements, string? wrong) = StudyText.Read(form.File.Text ?? form.Text.Value!);
        Reason? why = null;
        if (wrong is null && CrossedStudy.Analyse(measurements, out why) is not null)
            return await KeepAsync(form, form.Name.Value, form.Unit.Value!, measurements, form.Tolerance.Value, desk, writer, cancel) ?? Of(model);
        from.Refuse(wrong ?? why!.Text);
        return Of(model);
    }

    private static async Task<IResult?> KeepAsync(
        WebForm form, string? name, string unit, IReadOnlyList<GaugeMeasurement> measurements, double? tolerance, GaugeDesk desk, BookWriter writer, CancellationToken cancel) =>
        KitAnswer.To(
            await writer.SubmitAsync(form.Once, db => desk.KeepStudyAsync(db, name, unit, StudyText.Write(measurements), tolerance, cancel: cancel), s => KitAnswer.At("/gauges/studies/", s.Id), cancel),
            form, "Kept.");

    private static StudyModel Worked(GaugeStudyKept kept, UnitsView units)
    {
        (IReadOnlyList<GaugeMeasurement> measurements, string? wrong) = StudyText.Read(kept.MeasurementsCsv);
        Reason? why = wrong is null ? null : new("cannot-read", wrong);
        CrossedStudy? study = wrong is null ? CrossedStudy.Analyse(measurements, out why) : null;
        if (study is null)
            return new(kept, measurements, null, why, null, null);
        double gauge = study.Shares.Single(s => s.Source == "gauge").StandardDeviation;
        ShareBar[] bars = [.. study.Shares.Where(s => s.Source is "repeatability" or "operator" or "part × operator" or "gauge" or "part")
            .Select(s => new ShareBar(StudyWords.Source(s.Source), s.PercentStudyVariation, $"{units.Number(s.PercentStudyVariation, 1)} %", s.Source == "gauge"))];
        return new(kept, measurements, study, null, ShareBars.Draw(bars, "Shares of the study's spread", $"Gauge: {units.Number(study.Shares.Single(s => s.Source == "gauge").PercentStudyVariation, 1)} %."),
            kept.ToleranceWidth is { } width ? 100 * 6 * gauge / width : null);
    }

    private static (int Parts, int People, int Trials) Size(HttpContext http)
    {
        int One(string key, int usual, int most) => int.TryParse(http.Request.Query[key], NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? Math.Clamp(n, 2, most) : usual;
        (int parts, int people, int trials) = (One("parts", 5, 20), One("people", 2, 5), One("trials", 2, 5));
        return parts * people * trials <= MostCells ? (parts, people, trials) : (5, 2, 2);
    }

    private static IResult Of(NewStudyModel model) => Page.Of<NewStudyPage>("A gauge study", model, Room.Gauges, model.Status);
}

/// <summary>Sources of a study in words.</summary>
internal static class StudyWords
{
    public static string Source(string source) => source switch
    {
        "repeatability" => "the same person again (repeatability)",
        "reproducibility" => "between people, all in all (reproducibility)",
        "operator" => "between people",
        "part × operator" => "people who differ on some parts only",
        "gauge" => "the measuring, all in all",
        "part" => "the parts themselves",
        "total" => "all together",
        _ => source,
    };

    /// <summary>What a share means: limits of [aiag-msa], custom, not law.</summary>
    public static string Verdict(double percent) => percent < 10 ? "below 10 %: fine" : percent <= 30 ? "10 to 30 %: may do, by what depends on it" : "above 30 %: the gauge is too coarse for this";
}
