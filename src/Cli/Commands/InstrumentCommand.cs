using System.CommandLine;
using System.Globalization;
using Whetwright.Cli.Photos;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>instrument: distance, zero, print scale and roll of the reading set-up, without any reference piece.</summary>
internal static class InstrumentCommand
{
    public static Command Make(ITerminal terminal) => new("instrument",
        "Calibrate the reading set-up (target, distance, zero) without any reference piece. Each verb prints the instrument and,\n"
        + "with --out, writes it; with --instrument it improves one that exists.\n\n"
        + "  whetwright instrument step --before-mm 57.7 --after-mm 115.5 --step-mm 100 --out instrument.json\n"
        + "  whetwright instrument spacer --length-mm 100 --out instrument.json\n"
        + "  whetwright instrument zero --marks-mm 0.4 0.5 0.3 --instrument instrument.json --out instrument.json\n"
        + "  whetwright instrument zero bare1.jpg bare2.jpg bare3.jpg --target target.json --instrument instrument.json --out instrument.json\n"
        + "  whetwright instrument step near.jpg far.jpg --target target.json --step-mm 100 --out instrument.json\n"
        + "  whetwright instrument print --across-mm 99.6 --down-mm 99.8 --instrument instrument.json --out instrument.json\n"
        + "  whetwright instrument roll samples/instrument/roll.json --out instrument.json")
    {
        Step(terminal), Spacer(terminal), Roll(terminal), Zero(terminal), Print(terminal),
    };

    private static Command Step(ITerminal terminal)
    {
        Option<string?> before = TypedOptions.Make("--before-mm", "Mark from zero (or left mark to right mark) before the target was moved back.", "y1");
        Option<string?> after = TypedOptions.Make("--after-mm", "The same after the move.", "y2");
        Option<string?> step = TypedOptions.Make("--step-mm", "How far the target was moved back; at least as far as the distance itself.", "Δ");
        Option<string?> markU = TypedOptions.Make("--mark-u-mm", "Standard uncertainty of a mark (default 0.15 mm: read to 0.5 mm, chosen).", "u");
        Option<string?> stepU = TypedOptions.Make("--step-u-mm", "Standard uncertainty of the step (default 0.15 mm: read to 0.5 mm, chosen).", "u");
        InstrumentPhotos photos = new("Two photos of the same blade, untouched: before and after the move.");
        InstrumentOptions options = new();
        Command command = new("step",
            "Distance by moving the target a known step: L = Δ·y₁/(y₂ − y₁); from a mark as measured, or from two photos.\n\n"
            + "  whetwright instrument step --before-mm 57.7 --after-mm 115.5 --step-mm 100 --out instrument.json\n"
            + "  whetwright instrument step near.jpg far.jpg --target target.json --step-mm 100 --out instrument.json")
        {
            before, after, step, markU, stepU,
        };
        photos.AddTo(command);
        options.AddTo(command);
        command.SetAction(parsed => options.Run(parsed, terminal, given =>
        {
            double uMark = parsed.Mm(markU, Limits.Positive) ?? 0.15, uStep = parsed.Mm(stepU, Limits.Positive) ?? 0.15;
            if (photos.Given(parsed, before, after))
            {
                double stepMm = parsed.RequiredMm(step, Limits.Positive);
                (MeasuredLength y1, MeasuredLength y2) = photos.Separations(parsed, terminal, given, stepMm, parsed.Mm(markU, Limits.Positive));
                return WithDistance(given, DistanceCalibration.ByStep(y1, y2, MeasuredLength.FromMillimetres(stepMm, uStep)));
            }

            return WithDistance(given, DistanceCalibration.ByStep(
                MeasuredLength.FromMillimetres(parsed.RequiredMm(before, Limits.Positive), uMark),
                MeasuredLength.FromMillimetres(parsed.RequiredMm(after, Limits.Positive), uMark),
                MeasuredLength.FromMillimetres(parsed.RequiredMm(step, Limits.Positive), uStep)));
        }));
        return command;
    }

    private static Command Spacer(ITerminal terminal)
    {
        Option<string?> length = TypedOptions.Make("--length-mm", "Length of the gauge spacer between edge and target.", "l");
        Option<string?> lengthU = TypedOptions.Make("--length-u-mm", "Its standard uncertainty (default 0.2 % of it).", "u");
        Option<string?> offset = TypedOptions.Make("--offset-mm", "Known offset, such as the sheet's backing (default 0).", "c");
        InstrumentOptions options = new();
        Command command = new("spacer",
            "Distance by a gauge spacer held between edge and target.\n\n  whetwright instrument spacer --length-mm 100 --length-u-mm 0.1 --out instrument.json")
        {
            length, lengthU, offset,
        };
        options.AddTo(command);
        command.SetAction(parsed => options.Run(parsed, terminal, given => WithDistance(given, DistanceCalibration.BySpacer(
            MeasuredLength.FromMillimetres(parsed.RequiredMm(length, Limits.Positive), parsed.Mm(lengthU, Limits.Positive) ?? 0),
            MeasuredLength.FromMillimetres(parsed.Mm(offset, Limits.Any) ?? 0, 0)))));
        return command;
    }

    private static Command Roll(ITerminal terminal)
    {
        InstrumentPhotos photos = new("roll.json with the marks at each step (- reads standard input); or, with --target, one photo for each step.");
        Option<string[]?> feelers = new("--feelers-mm") { Description = "Feeler under the holder in each photo, in their order; 0 for the flat stand.", HelpName = "h", AllowMultipleArgumentsPerToken = true, Arity = ArgumentArity.OneOrMore };
        Option<string?> sineBase = TypedOptions.Make("--sine-base-mm", "Between the two lines the holder stands on.", "b");
        Option<string?> sineBaseU = TypedOptions.Make("--sine-base-u-mm", "Its standard uncertainty (default 0.05 mm, chosen).", "u");
        Option<string?> feelerU = TypedOptions.Make("--feeler-u-mm", "Standard uncertainty of a feeler (default 0.005 mm, chosen).", "u");
        Option<string?> markU = TypedOptions.Make("--mark-u-mm", "Standard uncertainty of a mark (default 0.15 mm, chosen).", "u");
        InstrumentOptions options = new();
        Command command = new("roll",
            "Distance and zero by rolling the holder known steps on a sine base: the light turns by twice each.\n\n"
            + "  whetwright instrument roll samples/instrument/roll.json --out instrument.json\n"
            + "  whetwright instrument roll flat.jpg one.jpg two.jpg --target target.json --sine-base-mm 50 --feelers-mm 0 1 2 --out instrument.json")
        {
            feelers, sineBase, sineBaseU, feelerU, markU,
        };
        photos.AddTo(command);
        options.AddTo(command);
        command.SetAction(parsed => options.Run(parsed, terminal, given =>
        {
            RollQuestion question = photos.HasTarget(parsed) ? FromPhotos(given) : FromFile();
            RollCalibrationResult fit = RollCalibration.Fit(question.Steps, question.SetUp);
            Instrument made = Base(given, fit.Distance);
            return new(fit.Zero is { } zero ? made with { Zero = zero } : made, [fit.Derivation], fit.Reasons);

            RollQuestion FromFile()
            {
                string[] files = photos.Files(parsed);
                Option? stray = Array.Find<Option>([feelers, sineBase, sineBaseU, feelerU, markU], o => parsed.GetResult(o) is { Implicit: false });
                return stray is not null
                    ? throw new InputRefusedException($"{stray.Name} goes with photos and --target, not with a roll.json")
                    : files.Length == 1 ? InputFile.Read(terminal, files[0], RollFormat.Read)
                    : throw new InputRefusedException($"{files.Length} files are given; one roll.json, or two photos and more with --target, would be right");
            }

            RollQuestion FromPhotos(Instrument? instrument)
            {
                double[] thick = [.. (parsed.GetValue(feelers) ?? []).Select(t => TypedOptions.Mm("--feelers-mm", t, Limits.Any))];
                MeasuredLength width = MeasuredLength.FromMillimetres(parsed.RequiredMm(sineBase, Limits.Positive), parsed.Mm(sineBaseU, Limits.NotNegative) ?? 0.05);
                var read = photos.RollSteps(parsed, terminal, instrument, thick);
                return new(read.Steps, new(width, Length.FromMillimetres(parsed.Mm(feelerU, Limits.NotNegative) ?? 0.005), Length.FromMillimetres(parsed.Mm(markU, Limits.Positive) ?? 0.15), read.Rough)
                {
                    PrintScale = read.Scale,
                    Zero = instrument is { IsDefault: false } && instrument.Zero.Value != Length.Zero ? instrument.Zero : null,
                });
            }
        }));
        return command;
    }

    private static Command Zero(ITerminal terminal)
    {
        Option<string[]?> marks = new("--marks-mm") { Description = "Where the bare beam fell, right of the target's zero; three or more are better than one.", HelpName = "x", AllowMultipleArgumentsPerToken = true, Arity = ArgumentArity.OneOrMore };
        Option<string?> resolution = TypedOptions.Make("--resolution-mm", "Finest step that was told apart (default 0.5 mm, chosen).", "r");
        InstrumentPhotos photos = new("Photos of the bare beam on the target, the blade taken out; three are better than one.");
        InstrumentOptions options = new();
        Command command = new("zero",
            "Zero from the bare beam: take the blade out and mark where the light falls, or photograph it, three times.\n\n"
            + "  whetwright instrument zero --marks-mm 0.4 0.5 0.3 --instrument instrument.json --out instrument.json\n"
            + "  whetwright instrument zero bare1.jpg bare2.jpg bare3.jpg --target target.json --instrument instrument.json --out instrument.json")
        {
            marks, resolution,
        };
        photos.AddTo(command);
        options.AddTo(command);
        command.SetAction(parsed => options.Run(parsed, terminal, given =>
        {
            Instrument start = given ?? throw NeedsInstrument();
            if (photos.Given(parsed, marks))
            {
                (double[] seen, Length finest) = photos.BareBeams(parsed, terminal, start);
                CalibratedLength fromPhotos = DistanceCalibration.ZeroFromBareBeam(seen, finest);
                return new(start with { Zero = fromPhotos.Value }, [fromPhotos.Derivation], fromPhotos.Reasons);
            }

            double[] places = [.. (parsed.GetValue(marks) ?? []).Select(t => TypedOptions.Mm("--marks-mm", t, Limits.Any))];
            if (places.Length == 0)
                throw new InputRefusedException("--marks-mm is missing; one or more places of the bare beam in mm, or photos of it with --target, would be right");
            CalibratedLength zero = DistanceCalibration.ZeroFromBareBeam(places, Length.FromMillimetres(parsed.Mm(resolution, Limits.Positive) ?? 0.5));
            return new(start with { Zero = zero.Value }, [zero.Derivation], zero.Reasons);
        }));
        return command;
    }

    private static Command Print(ITerminal terminal)
    {
        Option<string?> nominal = TypedOptions.Make("--nominal-mm", "Length of the check lines as drawn (default 100 mm).", "n");
        Option<string?> across = TypedOptions.Make("--across-mm", "The check line across the sheet, as measured.", "m");
        Option<string?> down = TypedOptions.Make("--down-mm", "The check line down the sheet, as measured.", "m");
        InstrumentPhotos photos = new("A photo of the printed sheet with a ruler or a set calliper flat on it, one length across and one down.");
        PrintPoints points = new();
        InstrumentOptions options = new();
        Command command = new("print",
            "The printer's own scale from the check lines on the sheet, or from a photo of the sheet beside known lengths.\n\n"
            + "  whetwright instrument print --across-mm 99.6 --down-mm 99.8 --instrument instrument.json --out instrument.json\n"
            + "  whetwright instrument print sheet.jpg --target target.json --from 410,1210 --to 1835,1204 --true-mm 150 \\\n"
            + "    --from 900,400 --to 905,1350 --true-mm 100 --instrument instrument.json --out instrument.json\n\n"
            + "Points are pixels of the picture as stored (before a viewer turns it), from the top left.")
        {
            nominal, across, down,
        };
        photos.AddTo(command);
        points.AddTo(command);
        options.AddTo(command);
        command.SetAction(parsed => options.Run(parsed, terminal, given =>
        {
            Instrument start = given ?? throw NeedsInstrument();
            if (photos.Given(parsed, nominal, across, down))
            {
                var read = points.Read(parsed, photos.Files(parsed), photos.Sheet(parsed, terminal));
                return new(start with { PrintScale = read.Scale, PrintScaleU = read.U }, read.Chain, [points.Raised(parsed)]);
            }

            Length drawn = Length.FromMillimetres(parsed.Mm(nominal, Limits.Positive) ?? 100);
            var x = DistanceCalibration.PrintScale(drawn, MeasuredLength.FromMillimetres(parsed.RequiredMm(across, Limits.Positive), 0.1));
            var y = DistanceCalibration.PrintScale(drawn, MeasuredLength.FromMillimetres(parsed.RequiredMm(down, Limits.Positive), 0.1));
            return new(start with { PrintScale = new PrintScale(x.Scale, y.Scale), PrintScaleU = Math.Max(x.Uncertainty, y.Uncertainty) }, [x.Derivation, y.Derivation], []);
        }));
        return command;
    }

    private static Calibration WithDistance(Instrument? given, CalibratedLength distance) =>
        new(Base(given, distance.Value), [distance.Derivation], distance.Reasons);

    private static Instrument Base(Instrument? given, MeasuredLength distance) => given is null
        ? new(distance, new MeasuredLength(Length.Zero, distance.Value * ReadingAssumptions.Default.ZeroRelativeUncertainty))
        : given with { Distance = distance };

    private static InputRefusedException NeedsInstrument() =>
        new("--instrument is missing; the distance comes first: whetwright instrument step|spacer|roll … --out instrument.json");

    /// <summary>What a calibration yields.</summary>
    private sealed record Calibration(Instrument Instrument, IReadOnlyList<Derivation> Chain, IReadOnlyList<Reason> Reasons);

    private sealed class InstrumentOptions
    {
        private readonly Option<string?> from = new("--instrument") { Description = "An instrument file to improve.", HelpName = "instrument.json" };
        private readonly Option<string?> into = new("--out") { Description = "Write the instrument here (replaced whole or not at all).", HelpName = "instrument.json" };
        private readonly Option<string?> date = new("--date") { Description = "The day of the calibration (default: today).", HelpName = "yyyy-MM-dd" };
        private readonly CommonOptions common = new();

        public void AddTo(Command command)
        {
            command.Options.Add(from);
            command.Options.Add(into);
            command.Options.Add(date);
            common.AddTo(command);
        }

        public int Run(ParseResult parsed, ITerminal terminal, Func<Instrument?, Calibration> calibrate)
        {
            CommonChoice choice = common.Read(parsed);
            Instrument? given = parsed.GetValue(from) is { } path ? InputFile.Read(terminal, path, InstrumentFormat.Read) : null;
            Calibration made;
            try
            {
                made = calibrate(given);
            }
            catch (PhotosRefusedException e)
            {
                return Refusal.Show(terminal, choice, e.Reasons);
            }
            catch (ArgumentException e)
            {
                throw new InputRefusedException(ReadCommand.Plain(e));
            }

            Instrument instrument = made.Instrument with { Date = Day(parsed.GetValue(date)) };
            if (parsed.GetValue(into) is { } target)
                AtomicFile.Write(target, JsonResults.Document(json => InstrumentFormat.Write(json, instrument)));
            Show(terminal, choice, instrument, made);
            return ExitCode.Done;
        }

        private static DateOnly Day(string? typed)
        {
            if (typed is null)
                return DateOnly.FromDateTime(TimeProvider.System.GetLocalNow().DateTime);
            return DateOnly.TryParseExact(typed, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day)
                ? day
                : throw new InputRefusedException($"--date is {typed}: a day such as 2026-11-20 would be right");
        }

        private static void Show(ITerminal terminal, CommonChoice choice, Instrument instrument, Calibration made)
        {
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    InstrumentFormat.Write(json, instrument);
                    if (choice.Explain)
                        json.Derivations(made.Chain);
                }));
                ReasonList.Write(terminal.Error, "Mind", made.Reasons);
                return;
            }

            Display d = choice.Display;
            terminal.Output.WriteLine("Instrument");
            TextTable table = new("what", "value", "u (k = 1)");
            table.Row("distance from edge to target", d.Mm(instrument.Distance.Value.Millimetres), d.Mm(instrument.Distance.StandardUncertainty.Millimetres, 3));
            table.Row("zero, right of the target's zero", d.Mm(instrument.Zero.Value.Millimetres), d.Mm(instrument.Zero.StandardUncertainty.Millimetres, 3));
            if (instrument.PrintScale is { } scale)
                table.Row("print scale, across and down", $"{Display.Number(scale.Across, 4)} {Display.Number(scale.Down, 4)}", instrument.PrintScaleU is { } pu ? Display.Number(pu, 4) : null);
            table.Row("roll of the holder", Display.Deg(instrument.HolderRoll?.Degrees), null);
            table.Row("re-clamping scatter", Display.Deg(instrument.Scatter?.Degrees), null);
            table.Write(terminal.Output);
            ReasonList.Write(terminal.Output, "Mind", made.Reasons);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, made.Chain);
        }
    }
}
