namespace Whetwright.Records.Shop;

/// <summary>The shop itself: one row.</summary>
public sealed class ShopCard : IVersioned
{
    /// <summary>Always 1.</summary>
    public long Id { get; set; } = 1;

    /// <summary>Name on receipts.</summary>
    public string Name { get; set; } = "";

    /// <summary>Address on receipts.</summary>
    public string? Address { get; set; }

    /// <summary>Conditions printed on receipts.</summary>
    public string? Conditions { get; set; }

    /// <summary>Address that tags carry in front of /t/NUMBER; null until set.</summary>
    public string? BaseAddress { get; set; }

    /// <summary>ISO 4217 code.</summary>
    public string Currency { get; set; } = "EUR";

    /// <summary>Culture of pages and paper.</summary>
    public string Culture { get; set; } = "en-GB";

    /// <summary>Time zone, IANA name.</summary>
    public string TimeZone { get; set; } = "Etc/UTC";

    /// <summary>"mm" or "in".</summary>
    public string Units { get; set; } = "mm";

    /// <summary>"left" or "right": the hand that works the screen.</summary>
    public string Hand { get; set; } = "right";

    /// <summary>Angle tolerance of the shop, degrees per side.</summary>
    public double ToleranceDeg { get; set; } = 0.5;

    /// <summary>Bench minutes in a working day: the promise follows from it.</summary>
    public double MinutesPerDay { get; set; } = 240;

    /// <summary>Days of the week with bench time, Monday first: "1111100".</summary>
    public string BenchDays { get; set; } = "1111100";

    /// <summary>Days until an uncollected piece is written about.</summary>
    public int UncollectedAfterDays { get; set; } = 90;

    /// <summary>Months after which an owner who no longer comes is proposed to be erased; null keeps everybody for good.</summary>
    public int? ForgetAfterMonths { get; set; }

    /// <summary>True for an invented shop: every page says so.</summary>
    public bool Invented { get; set; }

    /// <summary>The next tag number to give out.</summary>
    public int NextTag { get; set; } = 1001;

    /// <inheritdoc/>
    public int Version { get; set; }
}

/// <summary>A form that was saved: the same token a second time leads to the same answer and saves nothing.</summary>
public sealed class Submission
{
    /// <summary>The form's token.</summary>
    public required string Token { get; init; }

    /// <summary>When, UTC.</summary>
    public required DateTime EnteredAt { get; init; }

    /// <summary>Where the first save led.</summary>
    public required string Result { get; init; }
}

/// <summary>Numbered blanks printed for work without network: tags set aside until they are entered.</summary>
public sealed class TagBlock
{
    /// <summary>Key.</summary>
    public long Id { get; private set; }

    /// <summary>First number.</summary>
    public int From { get; init; }

    /// <summary>Last number.</summary>
    public int To { get; init; }

    /// <summary>When printed, UTC.</summary>
    public required DateTime EnteredAt { get; init; }
}
