using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Tests.Sampler;

/// <summary>A page with every building block, only here, for tests and for people who look at the pictures. Its numbers are invented.</summary>
internal static class SamplerPages
{
    /// <summary>How often the sampler was saved, by its token.</summary>
    public static void Map(WebApplication app)
    {
        app.MapGet("/sampler", (UnitsView units) => Of(new SamplerForm(units)));
        app.MapPost("/sampler", async (HttpContext http, UnitsView units) =>
        {
            SamplerForm form = new(units);
            return await form.ReadAsync(http)
                ? Page.SeeOther("/sampler", $"Got {units.Length(form.Height.Value!.Value)}, {form.Passes.Value} passes, {form.Photo.Files.Count} photos.")
                : Of(form);
        });
    }

    private static IResult Of(SamplerForm form) => Page.Of<SamplerPage>("Sampler", form, status: form.Status);
}

/// <summary>One field of each kind.</summary>
public sealed class SamplerForm : WebForm
{
    public SamplerForm(UnitsView units)
    {
        Height = Add(new LengthField("height", "Height", units) { Required = true, MinMm = 5, MaxMm = 120, Hint = "From spine to edge." }).Fill(Length.FromMillimetres(45));
        Angle = Add(new AngleField("angle", "Angle per side", units) { MinDeg = 5, MaxDeg = 45 }).Fill(Core.Quantities.Angle.FromDegrees(12.5));
        Passes = Add(new NumberField("passes", "Passes") { Whole = true, Min = 0, Max = 99, Step = 1 });
        Passes.Fill(3, units);
        Price = Add(new MoneyField("price", "Price", "EUR")).Fill(12.5m);
        Kind = Add(new ChoiceField("kind", "Kind", [new("knife", "Knife", "two bevels"), new("chisel", "Chisel"), new("scissors", "Scissors")])).Fill("knife");
        Wishes = Add(new ManyField("wishes", "Wishes", [new("thin", "Thin it"), new("tip", "New tip"), new("keen", "As keen as it goes")])).Fill(["tip"]);
        Agreed = Add(new FlagField("agreed", "Damage shown and agreed"));
        Promise = Add(new DateField("promise", "Promised for")).Fill(new DateOnly(2026, 3, 31));
        Photo = Add(new PhotoField("photo", "Photo of the damage") { Several = true });
        Note = Add(new TextField("note", "Note") { Lines = 2, MaxLength = 100 });
    }

    public LengthField Height { get; }

    public AngleField Angle { get; }

    public NumberField Passes { get; }

    public MoneyField Price { get; }

    public ChoiceField Kind { get; }

    public ManyField Wishes { get; }

    public FlagField Agreed { get; }

    public DateField Promise { get; }

    public PhotoField Photo { get; }

    public TextField Note { get; }

    /// <summary>A bar as long as the height that was typed.</summary>
    public Drawing Bar
    {
        get
        {
            double mm = Height.Value?.Millimetres ?? 1;
            return new Drawing(130, 14, "Bar", FormattableString.Invariant($"{mm:0.##} mm long"))
                .Rectangle(2, 3, mm, 8, Stroke.Outline, Ink.Steel)
                .Text(4, 9, FormattableString.Invariant($"{mm:0.##} mm"), 4, ink: Ink.Accent, backed: true);
        }
    }
}
