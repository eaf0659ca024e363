using Microsoft.AspNetCore.Http;
using Whetwright.Core.Quantities;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Start;

/// <summary>What a device's person chooses.</summary>
public sealed class PreferencesForm : WebForm
{
    public PreferencesForm(ViewPreferences now)
    {
        Units = Add(new ChoiceField("units", "Lengths", [new("mm", "Millimetres"), new("in", "Inches")]) { Required = true }).Fill(now.Units.Key());
        Culture = Add(new ChoiceField("culture", "Numbers and dates", [.. KnownCultures.Names.Select(n => new Choice(n, KnownCultures.Label(n)))])
        { Required = true, Hint = "How they look. Either decimal sign may be typed anywhere: 12.5 and 12,5 are the same." }).Fill(now.CultureName);
        Hand = Add(new ChoiceField("hand", "Your hand", [new("left", "Left"), new("right", "Right")])
        { Required = true, Hint = "The main buttons stand on its side, under the thumb." }).Fill(now.Hand.Key());
        Theme = Add(new ChoiceField("theme", "Light", [new("device", "As the device"), new("light", "Light"), new("dark", "Dark")]) { Required = true }).Fill(now.Theme.Key());
        Text = Add(new ChoiceField("text", "Text", [new("normal", "Normal"), new("large", "Large"), new("largest", "Largest")]) { Required = true }).Fill(now.TextSize.Key());
    }

    public ChoiceField Units { get; }

    public ChoiceField Culture { get; }

    public ChoiceField Hand { get; }

    public ChoiceField Theme { get; }

    public ChoiceField Text { get; }

    internal ViewPreferences Chosen() => new()
    {
        Units = Units.Value == "in" ? LengthUnit.Inch : LengthUnit.Millimetre,
        CultureName = Culture.Value ?? throw new InvalidOperationException("Read the form first."),
        Hand = Hand.Value == "left" ? WorkHand.Left : WorkHand.Right,
        Theme = Theme.Value switch { "light" => Shared.Showing.Theme.Light, "dark" => Shared.Showing.Theme.Dark, _ => Shared.Showing.Theme.Device },
        TextSize = Text.Value switch { "large" => TextSize.Large, "largest" => TextSize.Largest, _ => TextSize.Normal },
    };
}

/// <summary>Shows and keeps the preferences of this device.</summary>
internal static class Preferences
{
    public static IResult Show(ViewPreferences now) => Of(new PreferencesForm(now));

    public static async Task<IResult> SaveAsync(HttpContext http, ViewPreferences now)
    {
        PreferencesForm form = new(now);
        if (!await form.ReadAsync(http))
            return Of(form);
        PersonsView.Keep(http, form.Chosen());
        return Page.SeeOther("/preferences", "Kept on this device.");
    }

    private static IResult Of(PreferencesForm form) => Page.Of<PreferencesPage>("Preferences", form, status: form.Status);
}
