using System.CommandLine;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>set: what to dial into a rig for one blade.</summary>
internal static class SetCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> bladeFile = new("blade.json") { Description = "The piece as measured; - reads standard input." };
        Option<string?> rigFile = new("--rig") { Description = "The rig's geometry.", HelpName = "rig.json", Required = true };
        Option<string?> angle = TypedOptions.Make("--angle-deg", "Angle wanted per side, from the mid-plane; from the back for pieces with one. 13, 12,5 or 12°30′.", "deg");
        Option<string?> tolerance = TypedOptions.Make("--tolerance-deg", "How far the angle may stray before a second clamp is looked for (default 0.5).", "deg");
        Option<string[]?> score = new("--score-mm") { Description = "The stretch that counts, along the edge from the heel: 10,180 or 10.5;180.", HelpName = "a,b", AllowMultipleArgumentsPerToken = true };
        Option<string[]?> pivot = new("--pivot-mm") { Description = "A given clamp, evaluated instead of searched: the pivot's foot in the blade frame, y below 0.", HelpName = "x,y", AllowMultipleArgumentsPerToken = true };
        Option<string?> setting = TypedOptions.Make("--setting-mm", "With --pivot-mm: a given bar distance, pivot height or lift, evaluated as it is.", "S");
        Option<string?> wheel = new("--wheel") { Description = "Only this wheel.", HelpName = "name" };
        CommonOptions common = new();
        Command command = new("set",
            "What to dial into a rig: where to clamp, how far out, the bar or pivot for each wheel and side, the angle along the whole edge.\n\n"
            + "  whetwright set samples/kitchen-knife/blade.json --rig samples/kitchen-knife/rig.json --angle-deg 13\n"
            + "  whetwright set blade.json --rig rig.json --angle-deg 12°30′ --score-mm 10,180 --json\n"
            + "  whetwright set blade.json --rig rig.json --angle-deg 15 --pivot-mm 90,-70 --setting-mm 182.4\n\n"
            + "Wheels only within the speed marked on them; guards on, eyes protected, no gloves or loose sleeves near what turns.")
        {
            bladeFile, rigFile, angle, tolerance, score, pivot, setting, wheel,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            double wanted = parsed.RequiredDeg(angle, new Limits(0, 60, Open: true));
            SettingWish wish = SettingWish.Both(Angle.FromDegrees(wanted)) with
            {
                Tolerance = parsed.Deg(tolerance, Limits.PositiveTo(20)) is { } t ? Angle.FromDegrees(t) : null,
                ScoreMm = parsed.PairMm(score, Limits.NotNegative),
                PivotMm = parsed.PairMm(pivot, Limits.Any) is { } foot ? new Point2(foot.First, foot.Second) : null,
                SettingMm = parsed.Mm(setting, Limits.Positive),
                Wheel = parsed.GetValue(wheel),
            };
            Blade blade = InputFile.Read(terminal, parsed.GetValue(bladeFile)!, BladeFormat.Read);
            Rig rig = InputFile.Read(terminal, parsed.GetValue(rigFile)!, RigFormat.Read);
            SettingPlan plan = SettingPlanner.Plan(blade, rig, wish);
            Show(terminal, choice, plan, wanted, wish);
            return plan.Refused ? ExitCode.WorkRefused : ExitCode.Done;
        });
        return command;
    }

    private static void Show(ITerminal terminal, CommonChoice choice, SettingPlan plan, double wanted, SettingWish wish)
    {
        if (choice.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                SettingResult.Write(json, plan);
                if (choice.Explain)
                    json.Derivations(plan.Explain());
            }));
        }
        else if (!plan.Refused || plan.Clamps.Count > 0)
        {
            SettingTables.Write(terminal.Output, choice.Display, plan, wanted, wish.ToleranceInEffect.Degrees);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, plan.Explain());
        }

        if (plan.Refused)
            ReasonList.Write(terminal.Error, "Refused:", plan.Refusals);
    }
}
